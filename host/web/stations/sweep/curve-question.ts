import type { LinePoint } from '../../../job/findings';
import type { Gauge } from '../../../job/schema/gauge';
import type { JobState, Reading } from '../../../job/state/state';
import { openSweep } from '../../../job/state/views';
import type { OhmDot, OhmsQuestion } from '../../plot/ohms-scene';
import type { LivePoint } from '../../plot/plot-points';
import { shownOhm, shownReading } from '../../parts/words';

/** Thermistors by ratio, floats and membranes evenly: decided by what is measured, so that no reading changes it. */
export const isByRatio = ({ quantity }: Pick<Gauge, 'quantity'>): boolean => quantity === 'temperature';

const dotOf = (reading: Reading): OhmDot => ({
  id: reading.readingId,
  value: reading.reading,
  ohm: reading.resistanceOhm,
  kind: reading.struckBecause === undefined ? reading.leg : 'struck',
});

/** Readings and fitted curve of a job over its dial; the ohms of the sweep under way are in sight from its start. */
export function curveQuestion(
  state: JobState,
  line: readonly LinePoint[],
): Pick<OhmsQuestion, 'scale' | 'isRatio' | 'lines' | 'band' | 'dots' | 'alsoOhms'> {
  const sweep = openSweep(state);
  return {
    scale: state.gauge,
    isRatio: isByRatio(state.gauge),
    lines: [
      {
        id: 'curve',
        name: 'What this gauge wants',
        look: 'curve',
        points: line.map(({ x, y }) => ({ ohm: x, value: y })),
      },
    ],
    band: line.map(({ x, low, high }) => ({ ohm: x, low, high })),
    dots: state.readings.map(dotOf),
    ...(sweep?.fromOhm === undefined ? {} : { alsoOhms: [sweep.fromOhm, sweep.toOhm] }),
  };
}

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
