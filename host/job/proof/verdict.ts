import { conformanceProbability, pairWord, type DecisionRule, type Limits } from '../../core/proof/decision';
import { usualLimits } from '../../core/proof/limits';
import { scaleOf } from '../schema/scale';
import type { ProofLimit } from '../schema/proof-shapes';
import type { JobState, ProofPair } from '../state/state';
import { readingUncertaintyOf } from '../state/views';
import { isAtDangerousEnd } from './danger';

export type PairResult = {
  readonly error: number;
  /** 95 %, coverage factor 2: needle reading and reference together. */
  readonly expandedUncertainty: number;
};

const COVERAGE_FACTOR = 2;

/**
 * Error of one pair and how well it is known.
 * Source: u_c = root sum of squares of the reading (half a division, rectangular) and the reference; U = 2 u_c (GUM).
 */
export function pairResult(state: Pick<JobState, 'gauge'>, pair: ProofPair): PairResult {
  const reading = readingUncertaintyOf(state.gauge);
  return {
    error: pair.indicated - pair.reference,
    expandedUncertainty: COVERAGE_FACTOR * Math.hypot(reading, pair.referenceUncertainty ?? 0),
  };
}

export type Verdict = 'within' | 'outside' | 'cannot-tell';

/** Within and outside only where the rule proves them. Source: `pairWord`. */
const verdictBy = (result: PairResult, limits: Limits, rule: DecisionRule): Verdict => {
  const word = pairWord(result, limits, rule);
  return word === 'within' || word === 'outside' ? word : 'cannot-tell';
};

type Judged = Pick<JobState, 'gauge' | 'proofLimit' | 'proofRule'>;

/** The rule in force: the guard band where nobody chose, as in older jobs. */
export const ruleOf = ({ proofRule }: Pick<JobState, 'proofRule'>): DecisionRule =>
  proofRule?.rule ?? 'guard';

/** The verdict on one pair by the limit and the rule of its job. */
export const verdictOf = (state: Judged, pair: ProofPair): Verdict =>
  verdictBy(pairResult(state, pair), limitsAt(state, pair.reference), ruleOf(state));

/** Probability that the true error of a pair lies inside the limit. Source: JCGM 106:2012, by `conformanceProbability`. */
export const probabilityWithin = (state: Judged, pair: ProofPair): number =>
  conformanceProbability(pairResult(state, pair), limitsAt(state, pair.reference));

/** What restorers accept, as a part of the scale. Common practice, no source. */
const USUAL_PERCENT = 5;

/**
 * The limit in dial units (the larger side of one that is lopsided), the part of the scale it was given as (left out: in
 * dial units), and whether anybody chose it. `sides`: where the two sides differ, at the dangerous end.
 */
export type Limit = {
  readonly size: number;
  readonly percent?: number;
  readonly sides?: Limits;
  readonly isChosen: boolean;
};

const scaleFor = (gauge: JobState['gauge']) => {
  const { lowest, highest } = scaleOf(gauge.marks);
  return { quantity: gauge.quantity, lowest, highest };
};

export function limitOf({ gauge, proofLimit }: Pick<JobState, 'gauge' | 'proofLimit'>): Limit {
  if (proofLimit?.kind === 'size') return { size: proofLimit.size, isChosen: true };
  if (proofLimit?.kind === 'sides') {
    const { lower, upper } = proofLimit;
    return { size: Math.max(-lower, upper), sides: { lower, upper }, isChosen: true };
  }
  const percent = proofLimit?.kind === 'percent' ? proofLimit.percent : USUAL_PERCENT;
  const { span } = scaleOf(gauge.marks);
  const size = (percent * span) / 100;
  if (proofLimit?.kind === 'usual')
    return { size, percent, sides: usualLimits(scaleFor(gauge), true), isChosen: true };
  return { size, percent, isChosen: proofLimit !== undefined };
}

/** Both sides of the limit at a true value, dial units. */
const limitsAt = (
  { gauge, proofLimit }: Pick<JobState, 'gauge' | 'proofLimit'>,
  reference: number,
): Limits => {
  if (proofLimit?.kind === 'sides') return { lower: proofLimit.lower, upper: proofLimit.upper };
  if (proofLimit?.kind === 'usual') return usualLimits(scaleFor(gauge), isAtDangerousEnd(gauge, reference));
  const { size } = limitOf({ gauge, ...(proofLimit === undefined ? {} : { proofLimit }) });
  return { lower: -size, upper: size };
};

type Limited = Pick<JobState, 'gauge' | 'proofLimits'>;

/** The limits that were in force at entry `n` or since; undefined is that of a job where nobody chose one. */
const inForceSince = ({ proofLimits }: Limited, n: number): readonly (ProofLimit | undefined)[] =>
  [proofLimits.filter((each) => each.n < n).at(-1), ...proofLimits.filter((each) => each.n > n)].map(
    (each) => each?.limit,
  );

const withLimit = ({ gauge }: Limited, proofLimit: ProofLimit | undefined) =>
  proofLimit === undefined ? { gauge } : { gauge, proofLimit };

/**
 * The narrowest limit, in dial units, that was in force at entry `n` or since: widening a limit afterwards takes nothing
 * back of what was outside.
 */
export const narrowestSince = (state: Limited, n: number): number =>
  Math.min(...inForceSince(state, n).map((limit) => limitOf(withLimit(state, limit)).size));

/** Whether a pair lay outside by any limit that was in force when it was read, or since. */
export const wasOutsideOnce = (state: Limited & Pick<JobState, 'proofRule'>, pair: ProofPair): boolean =>
  inForceSince(state, pair.n).some(
    (limit) =>
      verdictBy(pairResult(state, pair), limitsAt(withLimit(state, limit), pair.reference), ruleOf(state)) ===
      'outside',
  );
