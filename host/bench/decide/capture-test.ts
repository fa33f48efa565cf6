import type { Refused } from '../../core/result';
import { refuse } from '../../refusals';
import type { CommandOf, EventBody, JobState } from '../../job';
import { boxMeasureOf } from '../../job/check/test-facts';
import type { Box } from '../box/box';
import { captureMeasurement } from './capture';
import { testHindrance } from './decide-diagnosis';

/** What the box measures by itself of a test of the diagnosis, in the test's own measure. */
export async function captureTest(
  box: Box,
  state: JobState,
  { test }: CommandOf<'capture-test'>,
): Promise<EventBody | Refused> {
  const hindrance = testHindrance(state, test);
  if (hindrance !== undefined) return hindrance;
  const what = boxMeasureOf(state, test);
  if (what === undefined) return refuse('BOX_CANNOT_MEASURE', { what: test });
  const measured = await captureMeasurement(box, state, { kind: 'capture-measurement', what, loads: 'off' });
  return measured.kind === 'refused'
    ? measured
    : { kind: 'check-tested', test, value: measured.value, source: 'box' };
}
