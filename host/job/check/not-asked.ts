import type { JobState } from '../state/state';
import { countedReadings } from '../state/views';
import { measured } from './measured';

export type CheckFacts = Pick<JobState, 'gauge' | 'place' | 'measurements' | 'answers' | 'readings'>;

/** Ids of the questions that more than one part of the program knows. */
export const question = {
  otherGauges: 'other-gauges-wrong',
  lights: 'needle-steps-with-lights',
  senderOff: 'needle-with-sender-off',
  knownLoad: 'needle-on-known-load',
  bothWays: 'needle-both-ways',
  rocking: 'needle-jumps-when-rocked',
} as const;

const isAnswered = ({ answers }: CheckFacts, id: string): boolean => {
  const answer = answers[id];
  return answer !== undefined && answer !== 'not-known';
};

/** Readings of a sweep are known loads, and its box measured the volts on them. */
const swept = (facts: CheckFacts) => countedReadings(facts).filter((each) => each.atStop === undefined);
const hasBothLegs = (facts: CheckFacts): boolean => new Set(swept(facts).map((each) => each.leg)).size === 2;

type Part = { readonly words: string; readonly isAsked: (facts: CheckFacts) => boolean };

const everywhere: readonly Part[] = [
  { words: 'supply at the gauge', isAsked: (facts) => measured(facts, 'supply-volt') !== undefined },
  {
    words: 'volts on the open sender wire',
    isAsked: (facts) => measured(facts, 'open-circuit-volt') !== undefined,
  },
  {
    words: 'whether the needle moves with a known resistance',
    isAsked: (facts) => isAnswered(facts, question.knownLoad) || swept(facts).length > 0,
  },
  {
    words: 'volts with that resistance on the sender wire',
    isAsked: (facts) =>
      measured(facts, 'loaded-volt') !== undefined ||
      swept(facts).some((each) => each.currentMilliamp !== undefined),
  },
  {
    words: 'whether the needle comes back to one place from both sides',
    isAsked: (facts) => isAnswered(facts, question.bothWays) || hasBothLegs(facts),
  },
  {
    words: 'ohms of the sender at its connector',
    isAsked: (facts) => measured(facts, 'sender-ohm') !== undefined,
  },
];

const inVehicle: readonly Part[] = [
  {
    words: 'ground of the gauge against the sender, lights off and on',
    isAsked: (facts) =>
      measured(facts, 'ground-offset-volt', 'off') !== undefined &&
      measured(facts, 'ground-offset-volt', 'lights') !== undefined,
  },
  {
    words: 'ohms from the sender\u2019s body to battery negative',
    isAsked: (facts) => measured(facts, 'sender-body-ohm') !== undefined,
  },
];

/** Two terminals feel the lights through the millivolts above; three terminals and electronics through their own ground. */
const hasOwnGround = ({ gauge }: CheckFacts): boolean =>
  gauge.terminals === 3 || gauge.mechanism === 'electronic';
const lights: Part = {
  words: 'whether the needle steps with the lights, off its stops',
  isAsked: (facts) => isAnswered(facts, question.lights) && facts.answers[question.lights] !== 'on-its-stop',
};
const rocking: Part = {
  words: 'whether the needle jumps when the vehicle is rocked',
  isAsked: (facts) => isAnswered(facts, question.rocking),
};

/**
 * What "sound" is never said without and nobody has asked yet, in words. On a bench there is no vehicle's ground to ask
 * about. Source: derived from the circuit; each part can hide a fault that looks like a wrong curve.
 */
export const notAsked = (facts: CheckFacts): readonly string[] => {
  const isInVehicle = facts.place === 'car';
  const parts = [
    ...everywhere,
    ...(isInVehicle ? inVehicle : []),
    ...(isInVehicle && hasOwnGround(facts) ? [lights] : []),
    ...(isInVehicle && facts.gauge.quantity === 'fuel' ? [rocking] : []),
  ];
  return parts.filter((part) => !part.isAsked(facts)).map((part) => part.words);
};
