import type { JobState, ProofPair } from '../../job/state';
import { readingUncertaintyOf } from '../../job/views';

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

export type Verdict = 'pass' | 'fail' | 'doubtful';

/**
 * Pass only when the error and its uncertainty stay within the limit; fail only when they lie wholly beyond it.
 * Source: decision rule with guard band w = U, non-binary (ILAC-G8).
 */
export function verdictOn({ error, expandedUncertainty }: PairResult, limit: number): Verdict {
  if (Math.abs(error) + expandedUncertainty <= limit) return 'pass';
  return Math.abs(error) - expandedUncertainty > limit ? 'fail' : 'doubtful';
}

export const VERDICT_WORDS: Readonly<Record<Verdict, string>> = {
  pass: 'pass',
  fail: 'fail',
  doubtful: 'cannot be told',
};
export const DECISION_RULE =
  'pass when error and uncertainty together stay within the limit; fail when both lie beyond it';

/** What restorers accept, as a part of the scale. Common practice, no source. */
const USUAL_LIMIT_FRACTION = 0.05;
export const usualLimit = (span: number): number => Number((USUAL_LIMIT_FRACTION * span).toPrecision(1));
