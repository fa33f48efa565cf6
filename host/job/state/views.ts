import { ownOhmsOf } from './hand-ohms';
import { ofPresentGauge } from './condition-now';
import { minutesFor } from './sweep-size';
import { scaleOf } from '../schema/scale';
import type { JobState, Reading, Sweep, SweepStep } from './state';

/** A reading as the curve fit takes it: struck ones left out, units of the dial. */
export type CurveReading = {
  readonly resistanceOhm: number;
  readonly reading: number;
  readonly leg: 'up' | 'down';
  readonly atStop?: 'low' | 'high';
  readonly readingUncertainty?: number;
  readonly supplyVolt?: number;
  readonly supplyAt?: 'feed' | 'battery';
  /** Standard uncertainty of these ohms that is this reading's own; left out where the box made them. */
  readonly resistanceUncertaintyOhm?: number;
  /** The needle was walked onto a mark: the reading is the mark. */
  readonly isSought?: true;
};

/** The resistance the gauge saw is the one the box made, or a person measured; what the box's meter says is kept beside it. */
const forCurve = (reading: Reading, ownOhm: number | undefined): CurveReading => ({
  resistanceOhm: reading.resistanceOhm,
  reading: reading.reading,
  leg: reading.leg,
  ...(reading.atStop === undefined ? {} : { atStop: reading.atStop }),
  ...(reading.readingUncertainty === undefined ? {} : { readingUncertainty: reading.readingUncertainty }),
  ...(reading.supplyVolt === undefined ? {} : { supplyVolt: reading.supplyVolt }),
  ...(reading.method === 'seek' ? { isSought: true } : {}),
  ...(reading.supplyAt === undefined ? {} : { supplyAt: reading.supplyAt }),
  ...(ownOhm === undefined ? {} : { resistanceUncertaintyOhm: ownOhm }),
});

/** Readings that count, in the order they were given. */
export const countedReadings = (state: Pick<JobState, 'readings'>): Reading[] =>
  state.readings.filter((reading) => reading.struckBecause === undefined);

/** Of these the ones of the gauge as it is now. */
export const presentReadings = (state: JobState): readonly Reading[] =>
  ofPresentGauge(state, countedReadings(state));

export const curveReadings = (state: JobState): CurveReading[] => {
  const counted = presentReadings(state);
  const ownOhms = ownOhmsOf(counted);
  return counted.map((reading, index) => forCurve(reading, ownOhms[index]));
};

/** A sender's points as the sender fit takes them, struck ones left out. */
export const countedSenderPoints = (state: JobState, senderId: string): JobState['senderPoints'] =>
  state.senderPoints.filter((point) => point.senderId === senderId && point.struckBecause === undefined);

/** The sweep that is running or paused; the newest, if several were left unfinished. */
export const openSweep = (state: JobState): Sweep | undefined =>
  state.sweeps.filter((sweep) => sweep.status.kind !== 'finished').at(-1);

export const runningSweep = (state: JobState): Sweep | undefined =>
  state.sweeps.find((sweep) => sweep.status.kind === 'running');

/** The job as it is while its journal still calls a sweep running that nothing drives: the next entry writes it down. */
export const pausedUntold = (state: JobState, reason: string | undefined): JobState =>
  reason === undefined || runningSweep(state) === undefined
    ? state
    : {
        ...state,
        sweeps: state.sweeps.map((sweep) =>
          sweep.status.kind === 'running' ? { ...sweep, status: { kind: 'paused', reason } } : sweep,
        ),
      };

/** The step a person is to answer next. */
export const currentStep = (sweep: Sweep | undefined): SweepStep | undefined =>
  sweep?.steps.find((step) => step.state.kind === 'pending');

export type Progress = { readonly done: number; readonly total: number; readonly minutesLeft: number };

/** How far the sweep is and how long the rest takes at this needle's pace; whole minutes, rounded up. */
export const progressOf = (sweep: Sweep): Progress => {
  const left = sweep.steps.filter((step) => step.state.kind === 'pending').length;
  const stillToCome = left + sweep.refinementsLeft;
  return {
    done: sweep.steps.length - left,
    total: sweep.steps.length + sweep.refinementsLeft,
    minutesLeft: minutesFor(stillToCome, sweep),
  };
};

/** Largest gap between the legs at the same resistance, in dial units, and where; undefined without a pair. */
export const legGap = (state: JobState): { gap: number; resistanceOhm: number } | undefined => {
  /** Two settings of the box that differ by less are the same setting. */
  const SAME_OHM_FRACTION = 1e-3;
  const counted = countedReadings(state).filter((reading) => reading.atStop === undefined);
  const gaps = counted
    .filter((up) => up.leg === 'up')
    .flatMap((up) =>
      counted
        .filter(
          (down) =>
            down.leg === 'down' &&
            Math.abs(down.resistanceOhm - up.resistanceOhm) <= SAME_OHM_FRACTION * up.resistanceOhm,
        )
        .map((down) => ({ gap: down.reading - up.reading, resistanceOhm: up.resistanceOhm })),
    );
  return gaps.sort((a, b) => Math.abs(b.gap) - Math.abs(a.gap))[0];
};

/** Standard uncertainty of one reading of this dial: half a division, rectangular, i.e. d / (2 sqrt 3). */
export const readingUncertaintyOf = (gauge: JobState['gauge']): number => {
  /** A dial without printed divisions is read to about a fiftieth of its span. Common practice, no source. */
  const UNDIVIDED_FRACTION = 1 / 50;
  const division = gauge.divisionReading ?? scaleOf(gauge.marks).span * UNDIVIDED_FRACTION;
  return division / (2 * Math.sqrt(3));
};

/** The sender in the vehicle: as it was said with what is fitted, else the one the trim is about, else the newest. */
export const senderInVehicle = (state: JobState): string | undefined =>
  state.fitted?.senderId ?? state.trimSenderId ?? state.senders.at(-1)?.senderId;

/** What stands on a sender: as it was described, or of the one in the vehicle as the particulars say it. */
export function senderNumbers(
  state: JobState,
  { senderId, serialNumber, partNumber }: JobState['senders'][number],
): { readonly serial: string | undefined; readonly part: string | undefined } {
  const said = senderId === senderInVehicle(state) ? state.particulars : undefined;
  return {
    serial: said?.senderSerialNumber ?? serialNumber,
    part: said?.senderPartNumber ?? partNumber,
  };
}
