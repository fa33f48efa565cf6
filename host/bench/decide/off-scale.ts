import type { Refused } from '../../core/result';
import { refuse } from '../../refusals';
import { scaleOf, type JobState } from '../../job';

const OFF_SCALE_FRACTION = 0.5;
/** A cold morning lies far below a coolant dial; two spans below is colder than any. Common practice, no source. */
const COLD_FRACTION = 2;

const refused = ({ gauge }: Pick<JobState, 'gauge'>, value: number): Refused => {
  const { lowest, highest } = scaleOf(gauge.marks);
  return refuse('READING_OFF_SCALE', { value, lowest, highest, unit: gauge.unit });
};

/** A value far off the dial is a slip of the keys, not a reading. */
export const offScale = (state: Pick<JobState, 'gauge'>, reading: number): Refused | undefined => {
  const { lowest, highest, span } = scaleOf(state.gauge.marks);
  const room = span * OFF_SCALE_FRACTION;
  return reading >= lowest - room && reading <= highest + room ? undefined : refused(state, reading);
};

/** What is true of a vehicle as it was found may lie below its dial, as on a cold morning; far above it is a slip. */
export const truthOffScale = (state: Pick<JobState, 'gauge'>, value: number): Refused | undefined => {
  const { lowest, highest, span } = scaleOf(state.gauge.marks);
  const below = span * (state.gauge.quantity === 'temperature' ? COLD_FRACTION : OFF_SCALE_FRACTION);
  const isNear = value >= lowest - below && value <= highest + span * OFF_SCALE_FRACTION;
  return isNear ? undefined : refused(state, value);
};
