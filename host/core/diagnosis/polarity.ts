import type { Reading } from './belief';
import type { TestName } from './names';

/** Volts so far below zero are no noise about it. */
const NEGATIVE_VOLT = -1;

/** By name, so that a page that asks this needs no rows of tests. */
const VOLTS: readonly TestName[] = ['open-volt', 'loaded-volt', 'second-load', 'battery', 'feed'];
const MILLIVOLTS: readonly TestName[] = ['hex-quiet', 'hex-loaded', 'case-quiet', 'case-loaded'];

/** Which post of the battery is ground, as far as it is known, and the readings that count by that. */
export type Polarity = {
  readonly isPositiveGround: boolean;
  /** What counts, in its order. */
  readonly readings: readonly Reading[];
  /** The question that a sign asks first, or the test whose tips were swapped. */
  readonly asks: TestName | undefined;
};

const isVolts = ({ test }: Reading): boolean => VOLTS.includes(test);
const isSigned = (reading: Reading): boolean => isVolts(reading) || MILLIVOLTS.includes(reading.test);
const isNegative = (reading: Reading): boolean => isVolts(reading) && reading.value < NEGATIVE_VOLT;

/**
 * Positive ground is a fact and no fault: the first volts' sign tells of it, a look at the battery settles it, and from
 * then on volts count without their sign, whether the tips were swapped since or not. Where the negative post is ground
 * a negative reading is a pair of swapped tips: it is taken again and never changed. Where nobody can look, the sign
 * stands for the fact.
 */
export function polarityOf(readings: readonly Reading[], skipped: readonly TestName[]): Polarity {
  const answer = readings.filter(({ test }) => test === 'grounded-post').at(-1)?.value;
  const negative = readings.filter(isNegative);
  const isToldBySign = negative.length > 0 && skipped.includes('grounded-post');
  if (answer === undefined ? isToldBySign : answer > 0.5) {
    const upright = readings.map((each) =>
      isSigned(each) ? { ...each, value: Math.abs(each.value) } : each,
    );
    return { isPositiveGround: true, readings: upright, asks: undefined };
  }
  const counted = readings.filter((each) => !isNegative(each));
  const swapped = negative.find(({ test }) => counted.every((each) => each.test !== test));
  const asks = answer === undefined && negative.length > 0 ? 'grounded-post' : swapped?.test;
  return { isPositiveGround: false, readings: counted, asks };
}
