import { effectiveEvents } from '../../job/effective';
import type { JobEvent } from '../../job/events';
import type { JobState, Measurement } from '../../job/state';

/** A question with a few answers, in words a person uses; the evidence it gives is in `suggestFinding`. */
export type CheckQuestion = {
  readonly id: string;
  readonly asks: string;
  readonly why: string;
  readonly answers: readonly { readonly value: string; readonly words: string }[];
};

export type CheckStep =
  | { readonly kind: 'as-found' }
  | { readonly kind: 'question'; readonly question: CheckQuestion }
  | MeasureStep;

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
};

const YES_NO = [
  { value: 'yes', words: 'Yes' },
  { value: 'no', words: 'No' },
  { value: 'not-known', words: 'Cannot tell' },
] as const;

const otherGauges: CheckQuestion = {
  id: 'other-gauges-wrong',
  asks: 'Are other gauges in this dash wrong the same way?',
  why: 'Gauges that share a stabiliser or a ground go wrong together.',
  answers: YES_NO,
};
const lightsStep: CheckQuestion = {
  id: 'needle-steps-with-lights',
  asks: 'Switch the headlights on: does the needle step?',
  why: 'A step with the lights is proof of a bad ground, not of a bad curve.',
  answers: YES_NO,
};
const unplugged: CheckQuestion = {
  id: 'needle-with-sender-off',
  asks: 'Ignition off, pull the wire off the sender, ignition on: where does the needle go?',
  why: 'With the sender wire open the needle belongs at one end. If it stays, the wire is down to ground somewhere.',
  answers: [
    { value: 'low-end', words: 'Low end' },
    { value: 'high-end', words: 'High end' },
    { value: 'stays', words: 'Stays where it was' },
    { value: 'not-known', words: 'Cannot tell' },
  ],
};

const groundStep = (loads: 'off' | 'lights'): CheckStep => ({
  kind: 'measure',
  id: `ground-${loads}`,
  what: 'ground-offset-volt',
  loads,
  asks: `Gauge ground to sender body, ${loads === 'off' ? 'everything switched off' : 'now with the lights on'}`,
  how: 'Millivolts between the ground of the gauge and the body of the sender, ignition on. Under 20 mV is good, over 50 mV is a fault. Common practice, no source.',
  unit: 'mV',
  isBoxAble: true,
});

const measureStep = (step: Omit<MeasureStep, 'kind' | 'loads'>): MeasureStep => ({
  kind: 'measure',
  loads: 'off',
  ...step,
});

/** Measurements that turn volts and ohms into dial units; which of them mean anything depends on the mechanism. */
function worthSteps({ gauge }: Pick<JobState, 'gauge'>): readonly MeasureStep[] {
  const { mechanism } = gauge;
  const heat = measureStep({
    id: 'effective-off',
    what: 'effective-volt',
    asks: 'How much the feed heats: the volts a hot-wire needle feels',
    how: 'Sender wire off the sender and on the box, ignition on, half a minute. A DC meter is no use on a pulsing stabiliser.',
    unit: 'V',
    isBoxAble: true,
  });
  const gaugeOhm = measureStep({
    id: 'gauge-ohm-off',
    what: 'gauge-ohm',
    asks: 'Resistance of the gauge itself',
    how: 'Ignition off, both wires off the gauge: ohms from its feed terminal to its sender terminal. With it, volts turn into dial units.',
    unit: 'ohm',
    isBoxAble: false,
  });
  const stud = measureStep({
    id: 'stud-off',
    what: 'sender-stud-volt',
    asks: 'Volts at the sender terminal of the gauge, everything connected',
    how: 'Ignition on, at the gauge and not at the sender, against battery negative. It tells the sender\u2019s ohms without unplugging it.',
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

/** The order in which faults that look like a wrong curve are ruled out before one is drawn. */
export function checkPlan(state: Pick<JobState, 'place' | 'gauge'>): readonly CheckStep[] {
  const supply: CheckStep = {
    kind: 'measure',
    id: 'supply-off',
    what: 'supply-volt',
    loads: 'off',
    asks: 'Supply at the gauge, everything else off',
    how: 'Volts between the feed terminal of the gauge and battery negative, ignition on.',
    unit: 'V',
    isBoxAble: false,
  };
  const openCircuit: CheckStep = {
    kind: 'measure',
    id: 'open-circuit-off',
    what: 'open-circuit-volt',
    loads: 'off',
    asks: 'Volts on the sender wire with nothing connected to it',
    how: 'Sender wire off the sender, ignition on: what comes through the gauge. Near zero means a broken feed or coil.',
    unit: 'V',
    isBoxAble: true,
  };
  const worth = worthSteps(state);
  if (state.place === 'bench') return [{ kind: 'as-found' }, supply, openCircuit, ...worth];
  return [
    { kind: 'as-found' },
    { kind: 'question', question: otherGauges },
    { kind: 'question', question: lightsStep },
    supply,
    groundStep('off'),
    groundStep('lights'),
    { kind: 'question', question: unplugged },
    openCircuit,
    ...worth,
  ];
}

/** Steps that part or join the sender wire. */
export const partsTheWire = (step: CheckStep): boolean =>
  ['needle-with-sender-off', 'open-circuit-off', 'effective-off'].includes(stepId(step));

export const stepId = (step: CheckStep): string =>
  step.kind === 'as-found' ? 'as-found' : step.kind === 'question' ? step.question.id : step.id;

export function isStepDone(state: JobState, step: CheckStep): boolean {
  switch (step.kind) {
    case 'as-found':
      return state.asFound.length > 0;
    case 'question':
      return state.answers[step.question.id] !== undefined;
    case 'measure':
      return measured(state, step.what, step.loads) !== undefined;
  }
}

/** Whether a step was done after an event: when a fault has been put right, everything is asked again. */
export function isStepDoneSince(
  state: JobState,
  step: CheckStep,
  { events, sinceN }: { readonly events: readonly JobEvent[]; readonly sinceN: number },
): boolean {
  if (!isStepDone(state, step)) return false;
  if (sinceN === 0) return true;
  const isIt = (event: JobEvent): boolean => {
    switch (step.kind) {
      case 'as-found':
        return event.kind === 'as-found';
      case 'question':
        return event.kind === 'check-answered' && event.question === step.question.id;
      case 'measure':
        return event.kind === 'check-measured' && event.what === step.what && event.loads === step.loads;
    }
  };
  return effectiveEvents(events).some((event) => event.n > sinceN && isIt(event));
}

/** The newest measurement of a thing under given loads. */
export const measured = (
  state: Pick<JobState, 'measurements'>,
  what: Measurement['what'],
  loads: Measurement['loads'],
): Measurement | undefined =>
  state.measurements.filter((each) => each.what === what && each.loads === loads).at(-1);
