import { testRow, type Measure } from '../../core/diagnosis/tests';
import type { TestName } from '../../core/diagnosis/names';
import type { JobState, Measurement } from '../state/state';

type Range = { readonly lowest: number; readonly highest: number };

/** Outside these nothing can be read: a slip of the keys. Common practice, no source. */
const RANGES: Readonly<Record<Measure, Range>> = {
  place: { lowest: -0.25, highest: 1.25 },
  step: { lowest: -1.3, highest: 1.3 },
  volt: { lowest: -60, highest: 60 },
  ohm: { lowest: 0, highest: 1e7 },
  millivolt: { lowest: -30_000, highest: 30_000 },
  chance: { lowest: 0, highest: 1 },
};

export const testRange = (test: TestName): Range => RANGES[testRow(test).measure];

/** What the box measures at its clips of a test; undefined where it takes a meter or an eye. */
export function boxMeasureOf(
  { gauge }: Pick<JobState, 'gauge'>,
  test: TestName,
): Measurement['what'] | undefined {
  if (test === 'sender-plug') return 'sender-ohm';
  if (test !== 'open-volt') return undefined;
  return gauge.mechanism === 'thermal' ? 'effective-volt' : 'open-circuit-volt';
}
