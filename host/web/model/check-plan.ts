import type { JobState, Measurement } from '../../job/state';

export type Finding = NonNullable<JobState['conclusion']>['finding'];

/** A question with a few answers, in words a person uses; the evidence it gives is in `findingOf`. */
export type CheckQuestion = {
  readonly id: string;
  readonly asks: string;
  readonly why: string;
  readonly answers: readonly { readonly value: string; readonly words: string }[];
};

export type CheckStep =
  | { readonly kind: 'as-found' }
  | { readonly kind: 'question'; readonly question: CheckQuestion }
  | {
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
    { value: 'not-known', words: 'Skip this' },
  ],
};

const groundStep = (loads: 'off' | 'lights'): CheckStep => ({
  kind: 'measure',
  id: `ground-${loads}`,
  what: 'ground-offset-volt',
  loads,
  asks:
    loads === 'off' ? 'Gauge ground to sender body, everything switched off' : 'The same with the lights on',
  how: 'Millivolts between the ground of the gauge and the body of the sender, ignition on. Under 20 mV is good, over 50 mV is a fault. Common practice, no source.',
  unit: 'mV',
  isBoxAble: true,
});

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
  if (state.place === 'bench') return [{ kind: 'as-found' }, supply, openCircuit];
  return [
    { kind: 'as-found' },
    { kind: 'question', question: otherGauges },
    { kind: 'question', question: lightsStep },
    supply,
    groundStep('off'),
    groundStep('lights'),
    { kind: 'question', question: unplugged },
    openCircuit,
  ];
}

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

/** The newest measurement of a thing under given loads. */
export const measured = (
  state: Pick<JobState, 'measurements'>,
  what: Measurement['what'],
  loads: Measurement['loads'],
): Measurement | undefined =>
  state.measurements.filter((each) => each.what === what && each.loads === loads).at(-1);

export type Suggestion = {
  readonly finding: Finding;
  readonly sentence: string;
  readonly evidence: readonly string[];
};

/** Volts between which a 12 V vehicle's gauge feed is believed. Common practice, no source. */
const LOWEST_SUPPLY_VOLT = 11.5;
const HIGHEST_SUPPLY_VOLT = 15;
/** Common practice, no source: pass under 20 mV, act over 50 mV. */
const BAD_GROUND_VOLT = 0.05;
const GOOD_GROUND_VOLT = 0.02;

/** What the answers point to, worst first, with the evidence in words. A person decides; this only proposes. */
export function suggestFinding(state: JobState): Suggestion {
  const evidence = evidenceOf(state);
  const grounds = groundVolts(state);
  const supply = measured(state, 'supply-volt', 'off')?.value;
  const propose = (finding: Finding, sentence: string): Suggestion => ({ finding, sentence, evidence });
  if (state.answers['needle-with-sender-off'] === 'stays') {
    return propose(
      'wire-fault',
      'The needle stays with the sender wire off: look for a wire down to ground.',
    );
  }
  if (
    grounds.some((volt) => Math.abs(volt) > BAD_GROUND_VOLT) ||
    state.answers['needle-steps-with-lights'] === 'yes'
  ) {
    return propose(
      'ground-fault',
      'A ground is bad: clean and tighten it, then read the needle again before any sweep.',
    );
  }
  if (supply !== undefined && (supply < LOWEST_SUPPLY_VOLT || supply > HIGHEST_SUPPLY_VOLT)) {
    return propose('supply-fault', `The gauge is fed ${supply.toFixed(2)} V: cure the supply first.`);
  }
  if (state.answers['other-gauges-wrong'] === 'yes') {
    return state.gauge.mechanism === 'thermal' || state.gauge.mechanism === 'unknown'
      ? propose(
          'stabiliser-fault',
          'Several gauges are wrong the same way: suspect the stabiliser or its ground.',
        )
      : propose(
          'supply-fault',
          'Several gauges are wrong the same way: suspect what they share, feed or ground.',
        );
  }
  const isProved = supply !== undefined && (state.place === 'bench' || grounds.length > 0);
  if (!isProved)
    return propose(
      'undetermined',
      'Supply and ground are not both measured: a fault could hide in the curve.',
    );
  const isDoubtful = grounds.some((volt) => Math.abs(volt) > GOOD_GROUND_VOLT);
  return propose(
    'sound',
    isDoubtful
      ? 'Nothing found that forbids a sweep; the ground is only just good.'
      : 'Supply and ground are sound: what is wrong is the curve of gauge or sender.',
  );
}

const groundVolts = (state: JobState): readonly number[] =>
  (['off', 'lights'] as const)
    .map((loads) => measured(state, 'ground-offset-volt', loads)?.value)
    .filter((value) => value !== undefined);

function evidenceOf(state: JobState): string[] {
  const found = state.asFound.map(
    (each) =>
      `as found (${each.state}): needle at ${each.indicated} ${state.gauge.unit}` +
      (each.reference === undefined ? '' : `, reference ${each.reference} ${state.gauge.unit}`),
  );
  const volts = (['off', 'lights'] as const).flatMap((loads) => {
    const ground = measured(state, 'ground-offset-volt', loads);
    return ground === undefined
      ? []
      : [`ground offset, loads ${loads}: ${(1000 * ground.value).toFixed(0)} mV`];
  });
  const supply = measured(state, 'supply-volt', 'off');
  const answers = checkPlan(state).flatMap((step) => {
    if (step.kind !== 'question') return [];
    const answer = state.answers[step.question.id];
    const words = step.question.answers.find((each) => each.value === answer)?.words;
    return words === undefined ? [] : [`${step.question.asks} ${words}`];
  });
  return [
    ...found,
    ...(supply === undefined ? [] : [`supply: ${supply.value.toFixed(2)} V`]),
    ...volts,
    ...answers,
  ];
}
