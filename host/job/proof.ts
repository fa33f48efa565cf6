import { DANGER_WORDS, dangerReading, isAtDangerousEnd, NEVER_WORDS, normalRange } from './danger';
import { scaleOf } from './scale';
import type { JobState, ProofPair } from './state';
import { limitOf, pairResult, verdictOn, type Verdict } from './verdict';
import { countedProofPairs } from './views';

/**
 * Pairs that prove the vehicle as it was left: taken since somebody said what is fitted, and told apart into run and
 * substituted. Older ones stay on the sheet and prove nothing.
 */
export const provingPairs = (state: JobState): readonly ProofPair[] => {
  const { fitted } = state;
  if (fitted === undefined) return [];
  return countedProofPairs(state).filter(
    (pair) => pair.state === 'as-left' && pair.method !== undefined && pair.n > fitted.n,
  );
};

/** Why a pair that was taken as the vehicle was left proves nothing now; undefined for one that does. */
export const provesNothing = (state: JobState, pair: ProofPair): string | undefined => {
  if (pair.state !== 'as-left' || pair.struckBecause !== undefined) return undefined;
  if (pair.method === undefined) return 'made under the older rule: run and substituted were not told apart';
  if (state.fitted === undefined || pair.n < state.fitted.n)
    return 'taken before what is fitted now was said';
  return undefined;
};

export type Missing = 'fitted' | 'normal-running' | 'dangerous-end' | 'both-ways';

/** Two pairs nearer than this part of the scale are at one place. Common practice, no source. */
const ONE_PLACE_PART = 0.05;

const isNormal = (state: JobState, { method, reference }: ProofPair): boolean => {
  const { from, to } = normalRange(state.gauge);
  return method === 'run' && reference >= from && reference <= to;
};

const isDangerous = (state: JobState, { method, reference }: ProofPair): boolean =>
  method === 'substituted' && isAtDangerousEnd(state.gauge, reference);

const areBothWays = ({ gauge }: JobState, pairs: readonly ProofPair[]): boolean => {
  const room = ONE_PLACE_PART * scaleOf(gauge.marks).span;
  const [up, down] = (['up', 'down'] as const).map((leg) => pairs.filter((pair) => pair.leg === leg));
  return (up ?? []).some((one) =>
    (down ?? []).some((other) => Math.abs(one.reference - other.reference) <= room),
  );
};

/** What a proof still wants before it can be green, in the order in which it is done. */
export const missingFromProof = (state: JobState): readonly Missing[] => {
  const pairs = provingPairs(state);
  return [
    ...(state.fitted === undefined ? (['fitted'] as const) : []),
    ...(pairs.some((pair) => isNormal(state, pair)) ? [] : (['normal-running'] as const)),
    ...(pairs.some((pair) => isDangerous(state, pair)) ? [] : (['dangerous-end'] as const)),
    ...(areBothWays(state, pairs) ? [] : (['both-ways'] as const)),
  ];
};

const MOST_FIGURES = 4;
const figure = (value: number): string => String(Number(value.toPrecision(MOST_FIGURES)));

/** What is missing, as a person is told it; units as the job keeps them. */
export const missingWords = (missing: Missing, { gauge }: Pick<JobState, 'gauge'>): string => {
  const { from, to } = normalRange(gauge);
  switch (missing) {
    case 'fitted':
      return 'what is fitted: the chosen network, or nothing';
    case 'normal-running':
      return `ordinary running against a reference, between ${figure(from)} and ${figure(to)} ${gauge.unit}`;
    case 'dangerous-end':
      return `${DANGER_WORDS[gauge.quantity]} by known ohms in the sender\u2019s place, as it has at ${figure(dangerReading(gauge))} ${gauge.unit}: ${NEVER_WORDS[gauge.quantity]}`;
    case 'both-ways':
      return 'one place read with the needle rising and with it falling';
  }
};

/** The same in a word or two, for one line of many. */
export const MISSING_SHORT: Readonly<Record<Missing, string>> = {
  fitted: 'what is fitted',
  'normal-running': 'ordinary running',
  'dangerous-end': 'the dangerous end by known ohms',
  'both-ways': 'one place both ways',
};

/** The proof as a whole: of the pairs that prove the vehicle as it was left, each counted; one outside is enough. */
export type ProofVerdict = {
  /** Of the pairs so far. Without anything missing it is the verdict on the vehicle. */
  readonly verdict: Verdict;
  readonly missing: readonly Missing[];
  readonly counted: number;
  readonly isWithin: number;
  readonly isOutside: number;
  readonly run: number;
  readonly substituted: number;
};

/** Undefined while nothing was proved of the vehicle as it was left. Source: JCGM 106 and ILAC-G8 by `verdictOn`. */
export function proofVerdict(state: JobState): ProofVerdict | undefined {
  const pairs = provingPairs(state);
  if (pairs.length === 0) return undefined;
  const { size } = limitOf(state);
  const verdicts = pairs.map((pair) => verdictOn(pairResult(state, pair), size));
  const isWithin = verdicts.filter((each) => each === 'within').length;
  const isOutside = verdicts.filter((each) => each === 'outside').length;
  const substituted = pairs.filter((pair) => pair.method === 'substituted').length;
  return {
    verdict: isOutside > 0 ? 'outside' : isWithin === pairs.length ? 'within' : 'cannot-tell',
    missing: missingFromProof(state),
    counted: pairs.length,
    isWithin,
    isOutside,
    run: pairs.length - substituted,
    substituted,
  };
}

/** Green: everything that is wanted is there, and all of it within. */
export const isProved = (state: JobState): boolean => {
  const proof = proofVerdict(state);
  return proof !== undefined && proof.verdict === 'within' && proof.missing.length === 0;
};

/** Pairs of an earlier rule, or of what is no longer fitted. */
export const idlePairs = (state: JobState): readonly ProofPair[] =>
  state.proofPairs.filter((pair) => provesNothing(state, pair) !== undefined);
