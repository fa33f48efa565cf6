import { proofVerdict } from '../job/proof/proof';
import type { JobState, Reading } from '../job/state/state';
import { countedReadings } from '../job/state/views';
import type { JobSummary } from '../job/wire/job-messages';
import { headlines } from './headline';
import { printed } from './notation';

/** A picture of a finger's width tells no more apart. */
const MOST_POINTS = 12;

/** What a list of jobs shows of one; its id is its folder, so that a copied folder is a job of its own. */
export function jobSummaryOf(jobId: string, state: JobState): JobSummary {
  const verdict = proofVerdict(state)?.verdict;
  return {
    jobId,
    title: state.title,
    vehicle: state.vehicle,
    quantity: state.gauge.quantity,
    unit: state.gauge.unit,
    simulated: state.simulated,
    openedAt: state.openedAt,
    lastAt: state.lastAt,
    lastN: state.lastN,
    headlines: headlines(state, printed),
    points: thinned(countedReadings(state)).map(({ resistanceOhm, reading }) => [resistanceOhm, reading]),
    ...(verdict === undefined ? {} : { verdict }),
  };
}

/** Readings in order along the dial, every so many of them. */
function thinned(readings: readonly Reading[]): readonly Reading[] {
  const ordered = [...readings].sort((one, other) => one.reading - other.reading);
  const every = Math.ceil(ordered.length / MOST_POINTS);
  return ordered.filter((_, index) => index % every === 0);
}
