import { scaleOf } from '../schema/scale';
import type { JobState, ProofPair } from '../state/state';
import { normalCdf } from '../../core/numeric/normal';
import { readingUncertaintyOf } from '../state/views';

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

/**
 * Within only when the error and its uncertainty stay inside the limit; outside only when they lie wholly beyond it.
 * Source: decision rule with guard band w = U, non-binary (ILAC-G8).
 */
export function verdictOn({ error, expandedUncertainty }: PairResult, limit: number): Verdict {
  if (Math.abs(error) + expandedUncertainty <= limit) return 'within';
  return Math.abs(error) - expandedUncertainty > limit ? 'outside' : 'cannot-tell';
}

/**
 * Probability that the true error lies inside the limit. Source: JCGM 106:2012, conformance probability of a normal
 * distribution between two limits.
 */
export function probabilityWithin({ error, expandedUncertainty }: PairResult, limit: number): number {
  const standard = expandedUncertainty / COVERAGE_FACTOR;
  if (!(standard > 0)) return Math.abs(error) <= limit ? 1 : 0;
  return normalCdf((limit - error) / standard) - normalCdf((-limit - error) / standard);
}

export const DECISION_RULE =
  'within when error and uncertainty together stay inside the limit; outside when both lie beyond it; between, it cannot be told';

/** What restorers accept, as a part of the scale. Common practice, no source. */
const USUAL_PERCENT = 5;

/** The limit in dial units, the part of the scale it was given as (left out: in dial units), and whether anybody chose it. */
export type Limit = { readonly size: number; readonly percent?: number; readonly isChosen: boolean };

export function limitOf({ gauge, proofLimit }: Pick<JobState, 'gauge' | 'proofLimit'>): Limit {
  if (proofLimit?.kind === 'size') return { size: proofLimit.size, isChosen: true };
  const percent = proofLimit?.percent ?? USUAL_PERCENT;
  const { span } = scaleOf(gauge.marks);
  return { size: (percent * span) / 100, percent, isChosen: proofLimit !== undefined };
}

/**
 * The narrowest limit, in dial units, that was in force at entry `n` or since: widening a limit afterwards takes nothing
 * back of what was outside.
 */
export function narrowestSince(
  { gauge, proofLimits }: Pick<JobState, 'gauge' | 'proofLimits'>,
  n: number,
): number {
  const since = proofLimits.filter((each) => each.n > n);
  const inForce = [proofLimits.filter((each) => each.n < n).at(-1), ...since];
  return Math.min(
    ...inForce.map(
      (each) => limitOf(each === undefined ? { gauge } : { gauge, proofLimit: each.limit }).size,
    ),
  );
}
