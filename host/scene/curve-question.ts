import type { LinePoint } from '../job/findings';
import type { Gauge } from '../job/schema/gauge';
import type { JobState, Reading } from '../job/state/state';
import { openSweep } from '../job/state/views';
import type { OhmDot, OhmsQuestion } from './ohms-scene';

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
