import { isAtDangerousEnd, normalRange } from './danger';
import { freshPairsWanted, isOnePlace, takenAsLeft } from './proof-struck';
import { settleMsOf } from '../state/settling';
import type { JobState, ProofPair } from '../state/state';
import { verdictOf, type Verdict } from './verdict';

/**
 * Pairs that prove the vehicle as it was left: taken since somebody said what is fitted, and told apart into run and
 * substituted. Older ones stay on the sheet and prove nothing.
 */
export const provingPairs = (state: JobState): readonly ProofPair[] =>
  takenAsLeft(state).filter((pair) => pair.struckBecause === undefined);

/** Why a pair that was taken as the vehicle was left proves nothing now; undefined for one that does. */
export const provesNothing = (state: JobState, pair: ProofPair): string | undefined => {
  if (pair.state !== 'as-left' || pair.struckBecause !== undefined) return undefined;
  if (pair.method === undefined) return 'made under the older rule: run and substituted were not told apart';
  if (state.fitted === undefined || pair.n < state.fitted.n)
    return 'taken before what is fitted now was said';
  return undefined;
};

/**
 * How long the needle has to rest between two pairs that are not the same reading again. A simulated needle lives at its
 * own speed, which no journal tells.
 */
const restMs = ({ gauge, simulated }: JobState): number => (simulated ? 0 : settleMsOf(gauge.mechanism));

/** Two readings of one place with the needle moving the same way, made the same way. */
export const isSameAgain = (state: JobState, one: ProofPair, other: ProofPair): boolean =>
  one.leg === other.leg && one.method === other.method && isOnePlace(state, one, other);

/** What was entered this soon after another pair was read on a needle that had not come to rest, or was not read twice. */
export type TooSoon = { readonly passedMs: number; readonly wantedMs: number };

/** Undefined for a pair before which the needle had its time. */
export const tooSoon = (state: JobState, pair: ProofPair): TooSoon | undefined => {
  const wantedMs = restMs(state);
  const passed = takenAsLeft(state)
    .filter((other) => other.n < pair.n && !isSameAgain(state, pair, other))
    .map((other) => Date.parse(pair.at) - Date.parse(other.at))
    .filter((passedMs) => !(passedMs >= wantedMs));
  return passed.length === 0 ? undefined : { passedMs: Math.max(0, Math.min(...passed)), wantedMs };
};

export type Missing =
  | 'three-places'
  | 'fitted'
  | 'normal-running'
  | 'dangerous-end'
  | 'both-ways'
  | 'fresh-pair';

const isNormal = (state: JobState, { method, reference }: ProofPair): boolean => {
  const { from, to } = normalRange(state.gauge);
  return method === 'run' && reference >= from && reference <= to;
};

const isDangerous = (state: JobState, { method, reference }: ProofPair): boolean =>
  method === 'substituted' && isAtDangerousEnd(state.gauge, reference);

/** Three places tell a curve from a lucky point; common practice, no source. Asked since rules are chosen. */
const FEWEST_PLACES = 3;
const placesOf = (state: JobState, pairs: readonly ProofPair[]): number =>
  pairs.reduce<readonly ProofPair[]>(
    (apart, pair) => (apart.some((other) => isOnePlace(state, pair, other)) ? apart : [...apart, pair]),
    [],
  ).length;

const areBothWays = (state: JobState, pairs: readonly ProofPair[]): boolean => {
  const [up, down] = (['up', 'down'] as const).map((leg) => pairs.filter((pair) => pair.leg === leg));
  return (up ?? []).some((one) => (down ?? []).some((other) => isOnePlace(state, one, other)));
};

/** What a proof still wants before it can be green, in the order in which it is done. */
export const missingFromProof = (state: JobState): readonly Missing[] => {
  const pairs = provingPairs(state).filter((pair) => tooSoon(state, pair) === undefined);
  return [
    ...(state.fitted === undefined ? (['fitted'] as const) : []),
    ...(state.proofRule === undefined || placesOf(state, pairs) >= FEWEST_PLACES
      ? []
      : (['three-places'] as const)),
    ...(pairs.some((pair) => isNormal(state, pair)) ? [] : (['normal-running'] as const)),
    ...(pairs.some((pair) => isDangerous(state, pair)) ? [] : (['dangerous-end'] as const)),
    ...(areBothWays(state, pairs) ? [] : (['both-ways'] as const)),
    ...(freshPairsWanted(state, pairs).length === 0 ? [] : (['fresh-pair'] as const)),
  ];
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

/** Undefined while nothing was proved of the vehicle as it was left. Source: JCGM 106 and ILAC-G8 by `verdictOf`. */
export function proofVerdict(state: JobState): ProofVerdict | undefined {
  const pairs = provingPairs(state);
  if (pairs.length === 0) return undefined;
  const verdicts = pairs.map((pair) => verdictOf(state, pair));
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
