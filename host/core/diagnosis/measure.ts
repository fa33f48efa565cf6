import type { TestName, Way } from './names';
import type { Measure } from './tests';
import { testRow } from './tests';

/** A measure as it is compared: on a scale where equal steps are equally hard to tell. */
type Comparison = {
  readonly scaled: (value: number) => number;
  readonly back: (scaled: number) => number;
  /** Width over which a wrong digit lies evenly, on that scale. */
  readonly range: number;
};

/** Above this everything is open. */
const MOST_OHM = 2e5;
const FEW_OHM = 0.05;
const FEW_MILLIVOLT = 5;
const plain = { scaled: (value: number): number => value, back: (scaled: number): number => scaled };

const COMPARISONS: Readonly<Record<Measure, Comparison>> = {
  place: { ...plain, range: 1.3 },
  step: { ...plain, range: 1.3 },
  volt: { ...plain, range: 16 },
  ohm: {
    scaled: (ohm) => Math.log(Math.min(Math.max(0, ohm), MOST_OHM) + FEW_OHM),
    back: (scaled) => Math.max(0, Math.exp(scaled) - FEW_OHM),
    range: Math.log(MOST_OHM / FEW_OHM),
  },
  millivolt: {
    scaled: (millivolt) => Math.asinh(millivolt / FEW_MILLIVOLT),
    back: (scaled) => FEW_MILLIVOLT * Math.sinh(scaled),
    range: 2 * Math.asinh(14_000 / FEW_MILLIVOLT),
  },
  chance: { ...plain, range: 1 },
};

export const comparisonOf = (name: TestName): Comparison => COMPARISONS[testRow(name).measure];

/** What an eye, a box and a hand meter are good for, one standard deviation. Common practice, no source. */
const EYE_PART = 0.012;
const METERS = {
  box: { volt: 0.02, voltPart: 0.004, ohm: 0.03, ohmPart: 0.006, millivolt: 1 },
  hand: { volt: 0.03, voltPart: 0.006, ohm: 0.08, ohmPart: 0.01, millivolt: 1 },
} as const;

/** Standard deviation of one reading of this value, on the scale that it is compared on. */
export function readingSpread(name: TestName, value: number, way: Way): number {
  const meter = way === 'box' ? METERS.box : METERS.hand;
  switch (testRow(name).measure) {
    case 'place':
      return EYE_PART;
    case 'step':
      return 0.8 * EYE_PART;
    case 'volt':
      return meter.volt + meter.voltPart * Math.abs(value);
    case 'ohm':
      return meter.ohmPart + meter.ohm / (Math.min(value, MOST_OHM) + FEW_OHM);
    case 'millivolt':
      return (meter.millivolt + 0.02 * Math.abs(value)) / Math.hypot(value, FEW_MILLIVOLT);
    case 'chance':
      return 0;
  }
}
