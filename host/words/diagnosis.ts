import {
  expectedOf,
  loadOf,
  loadsOf,
  testRow,
  type CauseName,
  type Diagnosis,
  type Evidence,
  type Expected,
  type Part,
  type Subject,
  type TestName,
  type Why,
} from '../core/diagnosis';
import { onGroundedPost } from '../job/hook-up';
import type { Notation } from './notation';
import { capital, listed } from './sentence';

const PARTS: Readonly<Record<Part, string>> = {
  sound: 'nothing that was asked for: the circuit is sound',
  sender: 'the sender',
  curve: 'the sender\u2019s curve',
  'sender-ground': 'the sender\u2019s ground',
  'gauge-ground': 'the gauge\u2019s ground',
  wire: 'the sender wire',
  stabiliser: 'the stabiliser',
  supply: 'the supply',
  'shared-wire': 'two on one wire',
  gauge: 'the gauge',
  'flat-zone': 'the gauge\u2019s program: it holds the needle still on purpose',
};

const CAUSES: Readonly<Record<CauseName, string>> = {
  sound: 'sound',
  'sender-open': 'open inside',
  'sender-shorted': 'shorted inside',
  'sender-worn': 'worn track',
  'sender-drifted': 'drifted',
  'sender-of-another-family': 'of another family, or the other way round',
  'sender-seal': 'tape, thread or tank does not conduct',
  'engine-strap': 'the engine\u2019s strap',
  'case-wire': 'its own ground wire',
  'shared-ground': 'a ground shared with the lamps',
  'wire-open': 'broken',
  'wire-corroded': 'corroded',
  'wire-chafed': 'chafed, touching ground',
  'stabiliser-open': 'open',
  'stabiliser-closed': 'stuck closed',
  'stabiliser-drifted': 'drifted',
  'stabiliser-ground': 'its body has no ground',
  'feed-resistance': 'resistance in the feed',
  'weak-battery': 'weak battery',
  'second-gauge': 'a second gauge',
  'second-sender': 'a second sender',
  'gauge-open': 'open inside',
  'gauge-turns': 'shorted turns',
  'gauge-of-another-kind': 'made for another sender',
  'gauge-sticky': 'sticky',
  'pointer-moved': 'pointer moved on its shaft',
  'flat-zone': 'a flat zone',
};

/** What is done for a test, and what it is called in a list. */
const TESTS: Readonly<Record<TestName, { readonly name: string; readonly how: string }>> = {
  'as-found': {
    name: 'needle as found',
    how: 'Touch nothing. Read the needle.',
  },
  'as-found-warm': {
    name: 'needle with the engine hot',
    how: 'Engine hot, everything connected: read the needle. Hands clear of fan and belts.',
  },
  'moves-right': {
    name: 'needle moves the right way',
    how: 'Ask who drives it: does the needle move, and the right way, when the tank empties or the engine warms? Yes or no.',
  },
  'rest-mark': {
    name: 'needle at rest, off its rest mark',
    how: 'Ignition off. How far from its rest mark does the needle lie? Above it is plus.',
  },
  'other-gauges': { name: 'other gauges wrong too', how: 'Do other gauges read wrong too? Yes or no.' },
  branches: {
    name: 'second wire on the sender or the gauge',
    how: 'Look at both ends of the sender wire: does a second wire leave there? Yes or no.',
  },
  'lead-off': {
    name: 'needle with the lead off',
    how: 'Ignition off, take the sender lead off. Ignition on: read the needle.',
  },
  'middle-load': {
    name: 'needle on the middle load',
    how: 'Put the load from the sender lead to battery negative. Read the needle.',
  },
  'lowest-load': {
    name: 'needle on the lowest load',
    how: 'Put the load from the sender lead to battery negative, never bare ground. Read, then take it off at once.',
  },
  lights: {
    name: 'needle step with the lights',
    how: 'The middle load on: switch the lights on. How far does the needle step? Up is plus.',
  },
  'both-ways': {
    name: 'needle from above less from below',
    how: 'Come to the middle load once from more ohms and once from fewer. Reading from above the mark less reading from below it.',
  },
  'flat-step': {
    name: 'needle step inside the middle',
    how: 'Two loads that stand for 50 and 59 % of the scale, 20 s each: how far does the needle move?',
  },
  'open-volt': {
    name: 'volts on the open lead',
    how: 'Lead off: volts from it to battery negative. Where a stabiliser chops, the box tells the volts that heat.',
  },
  'open-pulses': {
    name: 'pulses on the open lead',
    how: 'Lead off: do the volts on it pulse? Yes or no; steady or none is no.',
  },
  'loaded-volt': {
    name: 'volts on the middle load',
    how: 'The middle load on: volts across it. Where a stabiliser chops, the volts that heat.',
  },
  'second-load': {
    name: 'volts on the lowest load',
    how: 'Put the load from the sender lead to battery negative, never bare ground. Volts across it; then take it off at once.',
  },
  battery: { name: 'volts at the battery', how: 'Volts at the battery\u2019s posts, ignition on.' },
  'hex-ohm': {
    name: 'ohms from the sender\u2019s hex to battery negative',
    how: 'Ignition off: ohms from the hex to battery negative, the leads\u2019 own ohms taken off.',
  },
  'hex-quiet': {
    name: 'mV from hex to battery negative, all off',
    how: 'Ignition on, everything else off: millivolts from the hex to battery negative.',
  },
  'hex-loaded': {
    name: 'mV from hex to battery negative, loads on',
    how: 'Ignition, lights and blower on: millivolts from the hex to battery negative.',
  },
  'sender-plug': {
    name: 'sender\u2019s ohms to battery negative',
    how: 'Lead off, ignition off: ohms from the sender\u2019s terminal to battery negative.',
  },
  'sender-body': {
    name: 'sender\u2019s ohms at its own body',
    how: 'Lead off: ohms from the sender\u2019s terminal to its own body.',
  },
  'sender-warm': {
    name: 'sender\u2019s ohms, engine hot',
    how: 'Engine hot and off, lead off: ohms from the terminal to its own body. The system stays closed.',
  },
  feed: {
    name: 'volts at the gauge\u2019s feed',
    how: 'Ignition on: volts from the feed to battery negative.',
  },
  'case-quiet': {
    name: 'mV from gauge ground to battery negative, all off',
    how: 'The middle load on, lights off: millivolts from the gauge\u2019s ground to battery negative.',
  },
  'case-loaded': {
    name: 'mV from gauge ground to battery negative, lights on',
    how: 'The middle load on, lights on: millivolts from the gauge\u2019s ground to battery negative.',
  },
  'stabiliser-ground': {
    name: 'ohms from the stabiliser\u2019s body to ground',
    how: 'Battery negative off: ohms from the stabiliser\u2019s body to the body of the car.',
  },
  'wire-ohm': {
    name: 'ohms of the sender wire, end to end',
    how: 'Both ends off: ohms of the sender wire from gauge to plug.',
  },
  'wire-leak': {
    name: 'ohms from the sender wire to ground',
    how: 'Both ends off: ohms from the sender wire to ground.',
  },
  'gauge-ohm': {
    name: 'ohms of the gauge, feed to sender terminal',
    how: 'All wires off: ohms from the feed terminal to the sender terminal.',
  },
  'gauge-ground-ohm': {
    name: 'ohms of the gauge, sender to ground terminal',
    how: 'All wires off: ohms from the sender terminal to the ground terminal.',
  },
  wiggle: {
    name: 'jumps when the joints are wiggled',
    how: 'Ignition on, engine off, hands clear of the fan: wiggle the joints you can reach, one by one; never at a fuel tank. Does the needle jump? Yes or no.',
  },
  'swap-sender': {
    name: 'right with a good sender',
    how: 'Hang a good sender on the lead, its body clipped to battery negative; nothing is opened. Does the needle read right for it, where it read wrong before? Yes or no.',
  },
  'swap-stabiliser': {
    name: 'right with a good stabiliser',
    how: 'Put in a stabiliser known to be good. Does the needle read right now, where it read wrong before? Yes or no.',
  },
  'swap-gauge': {
    name: 'right with a good gauge',
    how: 'Put in a gauge of the same kind, known to be good. Does it read right now, where the other read wrong? Yes or no.',
  },
  'grounded-post': {
    name: 'positive post is ground',
    how: 'Look at the battery: is its positive post strapped to body and engine? Yes or no. If not, the tips are swapped.',
  },
  rocking: {
    name: 'jumps when rocked or blipped',
    how: 'Rock the car, or blip the engine for an oil gauge. Does the needle, or the ohms, jump? Yes or no.',
  },
};

const WHY: Readonly<Record<Why, string>> = {
  'tells-most': 'it tells most for its minutes',
  proves: 'it proves what is suspected, or clears it',
  'read-again': 'that value was not expected: read it again before it counts',
  'third-reading': 'two readings of it do not agree: a third decides',
  sign: 'volts below zero: positive ground, or swapped tips',
};

/** What a part is called in the middle of a sentence. */
export const partWords = (part: Part): string => (part === 'sound' ? 'a sound circuit' : PARTS[part]);

export const testName = (test: TestName): string => TESTS[test].name;
export const whyWords = (why: Why): string => WHY[why];

/** A fact, and what follows from it. */
export const POSITIVE_GROUND_WORDS =
  'Positive ground: a fact of this car, no fault. Volts count without their sign. Swap the box\u2019s SENDER and GROUND clips; until then its output stays open.';

/** What to do for a test, with the ohms of its load. */
export function testWords(test: TestName, subject: Subject, say: Notation, isPositiveGround = false): string {
  const load = loadOf(test, loadsOf(subject));
  const how = isPositiveGround ? onGroundedPost(TESTS[test].how) : TESTS[test].how;
  return `${how}${load === undefined ? '' : ` The load: ${say.part(load)}.`}`;
}

/** A value of a test as it is written. */
export function valueWords(test: TestName, value: number, say: Notation, dial?: DialWords): string {
  switch (testRow(test).measure) {
    case 'place':
      if (value <= ON_STOP.low) return 'on the low stop';
      if (value >= ON_STOP.high) return 'on the high stop';
      return dial === undefined || value < 0 || value > 1
        ? `${Math.round(100 * value)} % of the scale`
        : say.short(Number(dial.reading(value).toPrecision(2)), dial.unit);
    case 'step':
      return `${Math.round(100 * value)} % of the scale`;
    case 'volt':
      return `${value.toFixed(2)} V`;
    case 'millivolt':
      return `${Number(value.toPrecision(2))} mV`;
    case 'ohm':
      return value > OPEN_OHM ? 'open' : say.ohm(Number(Math.max(value, 0.01).toPrecision(2)));
    case 'chance':
      return value > 0.5 ? 'yes' : 'no';
  }
}

const OPEN_OHM = 1e5;
/** So far beyond its scale a needle lies on its stop. */
const ON_STOP = { low: -0.045, high: 1.045 } as const;

/** "the sender wire: corroded"; a part of one cause only by itself. */
export const causeWords = (cause: CauseName, part: Part): string =>
  part === 'sound' || part === 'flat-zone' ? PARTS[part] : `${PARTS[part]}: ${CAUSES[cause]}`;

/** A dial that places of the needle are told on. */
export type DialWords = { readonly unit: string; readonly reading: (place: number) => number };

/** What is believed, in words; never a figure. */
export function verdictWords({ verdict, suspects, named, unproved, next }: Diagnosis): string {
  const [first, second] = suspects;
  if (first === undefined) return 'Nothing is known yet.';
  const best = causeWords(first.cause, first.part);
  if (verdict === 'no-circuit')
    return `These readings fit no circuit: take again what surprised. Nearest: ${best}.`;
  if (verdict === 'is') {
    if (named.some(({ part }) => part === 'sound'))
      return 'The circuit is sound: every proving test was good.';
    return `It is ${listed(named.map(({ part, cause }) => causeWords(cause, part)))}.`;
  }
  const proving = unproved.map(([test]) => (test === undefined ? '' : testName(test)));
  if (verdict === 'most-likely') {
    const sure = proving.length === 0 ? '' : ` To be sure: ${listed(proving)}.`;
    return `${first.part === 'sound' ? 'Most likely the circuit is sound' : `Most likely ${best}`}.${sure}`;
  }
  const other = second === undefined ? 'something else' : causeWords(second.cause, second.part);
  const pair = `${best} and ${other}`;
  return next === undefined ? `Not found. It lies between ${pair}.` : `Still open: between ${pair}.`;
}

const WEIGHTS: Readonly<Record<Evidence['weight'], string>> = {
  ...{ strong: 'strong', some: 'some', little: 'little', against: 'against' },
};

/** One line of evidence: "strong: volts on the middle load: 5.8 V, a good one gives 7.1 V". */
export function evidenceWords({ finding, weight, sound }: Evidence, say: Notation, dial?: DialWords): string {
  const { test, value, count } = finding;
  const twice = count > 1 ? ', read again' : '';
  const good = `a good one gives ${valueWords(test, sound.middle, say, dial)}`;
  return `${capital(WEIGHTS[weight])}: ${testName(test)} ${valueWords(test, value, say, dial)}${twice}; ${good}.`;
}

const rangeWords = (test: TestName, { low, middle, high }: Expected, say: Notation): string => {
  const ends = [valueWords(test, low, say), valueWords(test, high, say)];
  return ends[0] === ends[1] ? valueWords(test, middle, say) : `${ends[0]} to ${ends[1]}`;
};

/** What the next test would show for each of the two likeliest. */
export const expectationWords = ({ belief, suspects }: Diagnosis, test: TestName, say: Notation): string[] =>
  suspects.slice(0, 2).map(({ part, cause }) => {
    const what = part === 'sound' ? 'if the circuit is sound' : `if it is ${causeWords(cause, part)}`;
    return `${what}: ${rangeWords(test, expectedOf(belief, test, part), say)}`;
  });
