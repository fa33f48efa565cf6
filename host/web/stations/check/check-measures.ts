import type { Measurement } from '../../../job/state/state';
import { capital, knownLoad, powerOf, wireOff, type Job } from './check-questions';
import { shownPart } from '../../parts/words';

export type MeasureStep = {
  readonly kind: 'measure';
  readonly id: string;
  readonly what: Measurement['what'];
  readonly loads: NonNullable<Measurement['loads']>;
  readonly asks: string;
  readonly how: string;
  readonly unit: 'V' | 'mV' | 'ohm';
  /** Can the box measure it at its own terminals? */
  readonly isBoxAble: boolean;
  /** What is to be on the sender wire. */
  readonly loadOhm?: number;
};

export const groundStep = (loads: 'off' | 'lights'): MeasureStep => ({
  kind: 'measure',
  id: `ground-${loads}`,
  what: 'ground-offset-volt',
  loads,
  asks: `Gauge ground to sender body, ${loads === 'off' ? 'everything switched off' : 'now with the lights on'}`,
  how: 'Millivolts between the ground of the gauge and the body of the sender, ignition on. What they are worth on this dial is told once they are measured.',
  unit: 'mV',
  isBoxAble: true,
});

const measureStep = (step: Omit<MeasureStep, 'kind' | 'loads'>): MeasureStep => ({
  kind: 'measure',
  loads: 'off',
  ...step,
});

/** Measurements that turn volts and ohms into dial units; which of them mean anything depends on the mechanism. */
export function worthSteps(job: Job): readonly MeasureStep[] {
  const { gauge } = job;
  const { on, off } = powerOf(job);
  const { mechanism } = gauge;
  const heat = measureStep({
    id: 'effective-off',
    what: 'effective-volt',
    asks: 'Effective volts at the gauge: what a hot-wire needle follows',
    how: `${capital(wireOff(job))} and on the box, ${on}, half a minute. A DC meter is no use on a pulsing stabiliser.`,
    unit: 'V',
    isBoxAble: true,
  });
  const gaugeOhm = measureStep({
    id: 'gauge-ohm-off',
    what: 'gauge-ohm',
    asks: 'Resistance of the gauge itself',
    how: `${capital(off)}, both wires off the gauge: ohms from its feed terminal to its sender terminal. With it, volts turn into dial units.`,
    unit: 'ohm',
    isBoxAble: false,
  });
  const stud = measureStep({
    id: 'stud-off',
    what: 'sender-stud-volt',
    asks: 'Volts at the sender terminal of the gauge, everything connected',
    how: `${capital(on)}, at the gauge and not at the sender, against ${job.place === 'car' ? 'battery negative' : 'the supply\u2019s negative'}. It tells the sender\u2019s ohms without unplugging it.`,
    unit: 'V',
    isBoxAble: false,
  });
  const isSeries = mechanism === 'thermal' || mechanism === 'moving-coil';
  return [
    ...(mechanism === 'thermal' || mechanism === 'unknown' ? [heat] : []),
    ...(isSeries || mechanism === 'two-coil' || mechanism === 'cross-coil' ? [gaugeOhm] : []),
    ...(isSeries && gauge.terminals !== 3 ? [stud] : []),
  ];
}

const isTank = ({ place, gauge }: Job): boolean => place === 'car' && gauge.quantity === 'fuel';

/** The sender by itself: what neither volts nor needle can tell apart from the gauge. */
export const senderOhm = (job: Job): MeasureStep =>
  measureStep({
    id: 'sender-ohm-off',
    what: 'sender-ohm',
    asks: 'Ohms of the sender at its connector',
    how: `${capital(powerOf(job).off)}, ${wireOff(job)}, nothing else on it: ${isTank(job) ? 'from that wire to ground' : 'from its terminal to its body'}. With the box: the sender alone on its clips.`,
    unit: 'ohm',
    isBoxAble: true,
  });

export const bodyOhm = measureStep({
  id: 'sender-body-off',
  what: 'sender-body-ohm',
  asks: 'Ohms from the sender\u2019s body to battery negative',
  how: 'Everything off. Touch the meter\u2019s leads together first and take off what they show.',
  unit: 'ohm',
  isBoxAble: false,
});

export const loadedVolt = (job: Job): MeasureStep => ({
  ...measureStep({
    id: 'loaded-off',
    what: 'loaded-volt',
    asks: `Volts on the sender wire with the ${shownPart(knownLoad(job).ohm)} on it`,
    how: `Across the resistor, ${powerOf(job).on}. Without it and with it tell what lies between the feed and the wire.`,
    unit: 'V',
    isBoxAble: false,
  }),
  loadOhm: knownLoad(job).ohm,
});

export const supply = (job: Job): MeasureStep =>
  measureStep({
    id: 'supply-off',
    what: 'supply-volt',
    asks: 'Supply at the gauge, everything else off',
    how: `Volts between the feed terminal of the gauge and ${job.place === 'car' ? 'battery negative' : 'the supply\u2019s negative'}, ${powerOf(job).on}.`,
    unit: 'V',
    isBoxAble: false,
  });

export const openCircuit = (job: Job): MeasureStep =>
  measureStep({
    id: 'open-circuit-off',
    what: 'open-circuit-volt',
    asks: 'Volts on the sender wire with nothing connected to it',
    how: `${capital(wireOff(job))}, ${powerOf(job).on}: what comes through the gauge. Near zero means a broken feed or coil.`,
    unit: 'V',
    isBoxAble: true,
  });
