import type { JobState, Reading } from './state';

/** As found until something was done to the gauge itself; what is read after that is the gauge as it was left. */
export const conditionNow = ({ adjustments }: Pick<JobState, 'adjustments'>): 'as-found' | 'as-left' =>
  adjustments.length === 0 ? 'as-found' : 'as-left';

/**
 * Of readings those of the gauge as it is now: once it was read as left, what was read as found is of a gauge that is no
 * more. It stays in the journal, and on a cluster's sheet.
 */
export function ofPresentGauge(
  { sweeps }: Pick<JobState, 'sweeps'>,
  readings: readonly Reading[],
): readonly Reading[] {
  const leftIds = new Set(sweeps.flatMap(({ sweepId, state }) => (state === 'as-left' ? [sweepId] : [])));
  const left = readings.filter(({ sweepId }) => sweepId !== undefined && leftIds.has(sweepId));
  return left.length === 0 ? readings : left;
}
