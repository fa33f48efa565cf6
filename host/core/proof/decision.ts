import { normalCdf, normalQuantile } from '../numeric/normal';
import { refuse, type Refusal } from '../refusal';

/** How far the needle may be off below and above what is true, dial units; `lower` is below 0. */
export type Limits = { readonly lower: number; readonly upper: number };

/**
 * How a reading and its uncertainty become a word, chosen before the first pair.
 * `guard`: guard band as wide as U, in four words. `simple`: the error alone. `probability`: at least 95 % sure.
 * Source: ILAC-G8:09/2019, 4.2; JCGM 106:2012, 8.
 */
export const decisionRules = ['guard', 'simple', 'probability'] as const;
export type DecisionRule = (typeof decisionRules)[number];

/** Whether a pair is inside, and whether that is proved. */
export const pairWords = ['within', 'within-not-proved', 'outside-not-proved', 'outside'] as const;
export type PairWord = (typeof pairWords)[number];

/** Error of the needle, and its uncertainty at 95 % (coverage factor 2); dial units. */
export type ErrorWithUncertainty = { readonly error: number; readonly expandedUncertainty: number };

const COVERAGE_FACTOR = 2;
/** What `probability` asks for. */
const SURE = 0.95;
/** Sums of figures typed with two decimals differ in the last bit. */
const ROUNDING = 1e-9;

/** Refuses a limit with nothing between its sides. */
export const limitFault = ({ lower, upper }: Limits, unit: string): Refusal<'PROOF_LIMIT'> | undefined =>
  Number.isFinite(lower) && Number.isFinite(upper) && lower <= 0 && upper >= 0 && upper > lower
    ? undefined
    : refuse('PROOF_LIMIT', { lower, upper, unit });

/**
 * Probability that the true error lies between the limits.
 * Source: JCGM 106:2012, 7.2, equation (7) for a normal distribution.
 */
export const conformanceProbability = (
  { error, expandedUncertainty }: ErrorWithUncertainty,
  { lower, upper }: Limits,
): number => {
  const standard = expandedUncertainty / COVERAGE_FACTOR;
  if (standard === 0) return error >= lower && error <= upper ? 1 : 0;
  return normalCdf((upper - error) / standard) - normalCdf((lower - error) / standard);
};

/** The word a rule finds for one pair. Source: as `decisionRules`. */
export const pairWord = (result: ErrorWithUncertainty, limits: Limits, rule: DecisionRule): PairWord => {
  const { error } = result;
  const room = Math.min(limits.upper - error, error - limits.lower);
  const slack = ROUNDING * (limits.upper - limits.lower);
  const isIn = room >= -slack;
  if (rule === 'simple') return isIn ? 'within' : 'outside';
  if (rule === 'probability') {
    const chance = conformanceProbability(result, limits);
    if (chance >= SURE) return 'within';
    if (1 - chance >= SURE) return 'outside';
  } else {
    if (room >= result.expandedUncertainty - slack) return 'within';
    if (room < -result.expandedUncertainty - slack) return 'outside';
  }
  return isIn ? 'within-not-proved' : 'outside-not-proved';
};

/** Of many pairs: one outside is enough, and all have to be within. */
export const worstWord = (words: readonly PairWord[]): PairWord =>
  [...pairWords].reverse().find((word) => words.includes(word)) ?? 'within-not-proved';

/**
 * The narrowest limit to both sides that a rule could ever find kept with this uncertainty: that of a needle without any
 * error. Dial units. Source: `pairWord` at error 0.
 */
export const narrowestProvable = (expandedUncertainty: number, rule: DecisionRule): number => {
  if (rule === 'simple') return 0;
  if (rule === 'guard') return expandedUncertainty;
  return (normalQuantile((1 + SURE) / 2) * expandedUncertainty) / COVERAGE_FACTOR;
};
