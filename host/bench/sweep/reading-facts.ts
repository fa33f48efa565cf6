import type { JobState, Leg } from '../../job';
import type { Made } from '../box/box';
import type { Vital } from '../box/vital';
import type { Output } from '../box/output';
import { milliampOf, type PulseHeat } from '../box/pulse-heat';
import { legNow, supplyVoltOf } from './steps';
import type { ReadingNeighbours } from './sweep-run-parts';

/** What the box and the clock know of a reading at the moment it is given. */
export type ReadingFacts = {
  readonly resistanceOhm: number;
  readonly uncertaintyOhm: number;
  readonly measuredOhm?: number;
  readonly currentMilliamp?: number;
  readonly supplyVolt?: number;
  readonly waitedMs: number;
  readonly leg: Leg;
  readonly neighbours?: ReadingNeighbours;
};

type Known = {
  readonly made: Made;
  readonly output: Pick<Output, 'armed' | 'cameFromOhm'>;
  readonly vital: Vital | undefined;
  readonly heat: Pick<PulseHeat, 'isPulsing' | 'heatVolt'>;
  readonly waitedMs: number;
  readonly neighbours: ReadingNeighbours | undefined;
};

/** Gathers them; what the box does not vouch for is left out. */
export const readingFacts = (state: JobState, known: Known): ReadingFacts => {
  const { made, output, vital, heat, waitedMs } = known;
  const supplyVolt = supplyVoltOf(state, output.armed, vital);
  const currentMilliamp = milliampOf(heat, made.madeOhm, vital);
  return {
    resistanceOhm: made.madeOhm,
    uncertaintyOhm: made.uncertaintyOhm,
    ...(vital?.measuredOhm === undefined ? {} : { measuredOhm: vital.measuredOhm }),
    ...(currentMilliamp === undefined ? {} : { currentMilliamp }),
    ...(supplyVolt === undefined ? {} : { supplyVolt }),
    waitedMs,
    leg: legNow(state, made.madeOhm, output.cameFromOhm),
    ...(known.neighbours === undefined || known.neighbours.length === 0
      ? {}
      : { neighbours: known.neighbours }),
  };
};
