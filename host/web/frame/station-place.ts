import type { JobState } from '../../job/state/state';
import { openSweep, progressOf } from '../../job/state/views';
import { stations, type Headline, type Station } from '../../job/stations';

/** A station that is begun and cannot say how far it is. */
const BEGUN = 0.5;
const FRESH = 0.04;

/**
 * How far a job is, in stations: the one the work stands at, and how far that one is. A sweep says it by its steps; of
 * the others only begun or not is known.
 */
export function jobPlace(headlines: readonly Headline[], state?: JobState): number {
  const atWork = headlines.findIndex((headline) => !headline.done);
  if (atWork < 0) return stations.length;
  const sweep = state === undefined ? undefined : openSweep(state);
  if (sweep !== undefined) {
    const { done, total } = progressOf(sweep);
    return stations.indexOf('sweep') + (total === 0 ? FRESH : done / total);
  }
  return atWork + (state !== undefined && isBegun(state, stations[atWork]) ? BEGUN : FRESH);
}

function isBegun(state: JobState, station: Station | undefined): boolean {
  switch (station) {
    case 'check':
      return state.asFound.length + state.measurements.length > 0;
    case 'sweep':
      return state.readings.length > 0;
    case 'sender':
      return state.senderPoints.length > 0;
    case 'trim':
      return state.trimRequest !== undefined;
    case 'proof':
      return state.proofPairs.length > 0;
    case 'record':
    case undefined:
      return false;
  }
}
