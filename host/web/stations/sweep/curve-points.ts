import type { Gauge } from '../../../job/schema/gauge';
import type { JobState, Reading } from '../../../job/state/state';
import type { LivePoint } from '../../plot/plot-points';
import { shownOhm, shownReading } from '../../parts/words';

/** A dot in words: what was read, where, with the needle on which way. */
const readingWords = (reading: Reading, gauge: Gauge): string =>
  `${shownReading(reading.reading, gauge)} at ${shownOhm(reading.resistanceOhm)}, going ${reading.leg}` +
  (reading.struckBecause === undefined ? '' : ', struck');

/** Every dot of the plot as a thing to choose. */
export const pointsOf = (state: JobState): readonly LivePoint[] =>
  state.readings.map((reading) => ({
    id: reading.readingId,
    words: readingWords(reading, state.gauge),
  }));
