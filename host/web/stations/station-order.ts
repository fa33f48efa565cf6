import type { JobState } from '../../job/state/state';
import { openSweep } from '../../job/state/views';
import type { Headline, Station } from '../../job/stations';

export const STATION_WORDS: Readonly<Record<Station, string>> = {
  check: 'Check',
  sweep: 'Sweep',
  sender: 'Sender',
  trim: 'Trim',
  proof: 'Proof',
  record: 'Record',
};

/**
 * The station that is open while nobody opened another by hand. Work under the hands is never folded away: a station
 * that has what it needs stays until the person goes on, but for the check, whose conclusion is its end, and a sweep
 * that runs, which comes before all. A part that was named can be mended and checked again: there the check stays, too.
 */
export const stationShown = (before: Station, atWork: Station, state: JobState): Station =>
  openSweep(state) !== undefined || (before === 'check' && !isNamed(state)) ? atWork : before;

const isNamed = ({ conclusion }: JobState): boolean =>
  conclusion?.diagnosed?.verdict === 'is' && conclusion.finding !== 'sound';

/** The station the work stands at: an open sweep before all; else the first without a finding; else the record. */
export const stationAtWork = (headlines: readonly Headline[], state?: JobState): Station =>
  state !== undefined && openSweep(state) !== undefined
    ? 'sweep'
    : (headlines.find((headline) => !headline.done)?.station ?? 'record');
