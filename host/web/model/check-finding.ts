import type { CheckFinding } from '../../job/findings';
import type { JobState } from '../../job/state';
import { checkPlan, measured } from './check-plan';
import { measuredWords } from './measured-words';
import { shownReading } from './words';

export type Finding = NonNullable<JobState['conclusion']>['finding'];

export type Suggestion = {
  readonly finding: Finding;
  readonly sentence: string;
  readonly evidence: readonly string[];
};

/** Volts between which a 12 V vehicle's gauge feed is believed. Common practice, no source. */
const LOWEST_SUPPLY_VOLT = 11.5;
const HIGHEST_SUPPLY_VOLT = 15;
/** A working stabiliser takes more than this off the supply. Common practice, no source. */
const UNCHOPPED = 0.97;
/** Common practice, no source: pass under 20 mV, act over 50 mV. */
const BAD_GROUND_VOLT = 0.05;
const GOOD_GROUND_VOLT = 0.02;
/** Every gauge of the trade lets more through to an open sender wire. Common practice, no source. */
const DEAD_WIRE_VOLT = 0.5;

/** What is wrong with the feed, if anything; it is ruled out before the curve is blamed. */
function feedFault(
  state: JobState,
  supply: number | undefined,
): readonly [finding: Finding, sentence: string] | undefined {
  if (supply !== undefined && (supply < LOWEST_SUPPLY_VOLT || supply > HIGHEST_SUPPLY_VOLT)) {
    return ['supply-fault', `The gauge is fed ${supply.toFixed(2)} V: cure the supply first.`];
  }
  const heat = measured(state, 'effective-volt', 'off')?.value;
  const { mechanism } = state.gauge;
  if (mechanism === 'thermal' && supply !== undefined && heat !== undefined && heat > UNCHOPPED * supply) {
    return [
      'stabiliser-fault',
      'The whole supply heats the gauge: the stabiliser is stuck closed, or none is fitted. Put that right before any sweep.',
    ];
  }
  if (state.answers['other-gauges-wrong'] !== 'yes') return undefined;
  return mechanism === 'thermal' || mechanism === 'unknown'
    ? ['stabiliser-fault', 'Several gauges are wrong the same way: suspect the stabiliser or its ground.']
    : ['supply-fault', 'Several gauges are wrong the same way: suspect what they share, feed or ground.'];
}

/** What the answers point to, worst first, with the evidence in words. A person decides; this only proposes. */
export function suggestFinding(state: JobState, worth?: CheckFinding): Suggestion {
  const evidence = evidenceOf(state, worth);
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
    const size = worth?.groundWorth.lights ?? worth?.groundWorth.off;
    return propose(
      'ground-fault',
      `A ground is bad${size === undefined ? '' : `, ${size}`}: clean and tighten it, then read the needle again before any sweep.`,
    );
  }
  const fed = feedFault(state, supply);
  if (fed !== undefined) return propose(...fed);
  const through = measured(state, 'open-circuit-volt', 'off')?.value;
  if (through !== undefined && Math.abs(through) < DEAD_WIRE_VOLT) {
    return propose(
      'gauge-suspect',
      'Nothing comes through the gauge to the sender wire: look for a broken feed, wire, coil or heater.',
    );
  }
  const isProved = supply !== undefined && (state.place === 'bench' || grounds.length > 0);
  if (!isProved)
    return propose(
      'undetermined',
      'Supply and ground are not both measured: a fault could hide in the curve.',
    );
  if (state.place === 'bench')
    return propose('sound', 'The supply is sound: what is wrong is the curve of gauge or sender.');
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

function evidenceOf(state: JobState, worth?: CheckFinding): string[] {
  const found = state.asFound.map(
    (each) =>
      `as found (${each.state}): needle ${each.atStop === undefined ? `at ${shownReading(each.indicated, state.gauge)}` : `on the ${each.atStop} stop`}` +
      (each.reference === undefined ? '' : `, reference ${shownReading(each.reference, state.gauge)}`),
  );
  const newest = state.measurements.filter((each) => measured(state, each.what, each.loads) === each);
  const answers = checkPlan(state).flatMap((step) => {
    if (step.kind !== 'question') return [];
    const answer = state.answers[step.question.id];
    const words = step.question.answers.find((each) => each.value === answer)?.words;
    return words === undefined ? [] : [`${step.question.asks} ${words}`];
  });
  return [...found, ...newest.map((each) => measuredWords(each, worth)), ...(worth?.lines ?? []), ...answers];
}
