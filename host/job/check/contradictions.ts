import type { CheckFinding } from '../findings';
import type { Measurement } from '../state/state';
import { measured } from './measured';
import { question, type CheckFacts } from './not-asked';

/** What would have to be done again: a measurement by its event, or a question. */
export type Again =
  | { readonly kind: 'measurement'; readonly measurement: Measurement }
  | { readonly kind: 'answer'; readonly question: string };

/** Things that were said or measured and cannot both be so. */
export type Contradiction = { readonly id: string; readonly says: string; readonly again: readonly Again[] };

/** Two hand meters, and a battery that settles between two looks. Common practice, no source. */
const ROOM_PART = 0.02;
const ROOM_VOLT = 0.15;
/** Lamps draw about 10 A through straps of 2 to 6 milliohm: at least 20 mV. A tenth of that is no change. */
export const UNCHANGED_VOLT = 0.002;
/** Less than this comes through no gauge that is fed. Common practice, no source. */
export const DEAD_WIRE_VOLT = 0.5;
/** An eye does not miss a step of this part of the scale. Common practice, no source. */
const SEEN_PART = 0.03;

const volts = (measurement: Measurement): string => `${measurement.value.toFixed(2)} V`;
const again = (...measurements: readonly Measurement[]): readonly Again[] =>
  measurements.map((measurement) => ({ kind: 'measurement', measurement }));

const BELOW_SUPPLY = [
  ['open-circuit-volt', 'on the open sender wire'],
  ['effective-volt', 'of heat on the open sender wire'],
  ['sender-stud-volt', 'at the sender terminal'],
  ['loaded-volt', 'on the sender wire with the resistor on it'],
] as const;

/** Nothing between the feed and the sender wire raises volts. Source: Kirchhoff's voltage law in a circuit of resistances. */
function aboveSupply(facts: CheckFacts): Contradiction[] {
  const supply = measured(facts, 'supply-volt');
  if (supply === undefined) return [];
  const room = ROOM_VOLT + ROOM_PART * Math.abs(supply.value);
  return BELOW_SUPPLY.flatMap(([what, where]): Contradiction[] => {
    const below = measured(facts, what);
    if (below === undefined) return [];
    const id = `${what}-above-supply`;
    if (Math.abs(below.value) > Math.abs(supply.value) + room) {
      const says = `${volts(below)} ${where} is more than the ${volts(supply)} that feed the gauge, and nothing between the two raises volts. Measure both again, one right after the other, with nothing switched in between`;
      return [{ id, says, again: again(below, supply) }];
    }
    if (below.value * supply.value < 0 && Math.abs(below.value) > room) {
      const says = `${volts(below)} ${where} and ${volts(supply)} at the feed have opposite signs: for one of them the leads were the wrong way round. Measure both again from the same ground`;
      return [{ id, says, again: again(below, supply) }];
    }
    return [];
  });
}

const millivolts = (volt: number): string => `${(1000 * volt).toFixed(1)} mV`;

/** Lamps that are on move the ground of every vehicle a little; a needle that steps needs something that moves it. */
function lights(facts: CheckFacts, worth: CheckFinding | undefined): Contradiction[] {
  const off = measured(facts, 'ground-offset-volt', 'off');
  const on = measured(facts, 'ground-offset-volt', 'lights');
  if (off === undefined || on === undefined) return [];
  const both = `${millivolts(off.value)} with everything off and ${millivolts(on.value)} with the lights on`;
  const step = facts.answers[question.lights];
  const isUnchanged = on.saidOn !== true && Math.abs(on.value - off.value) < UNCHANGED_VOLT;
  if (isUnchanged && step === 'yes') {
    const says = `The needle was said to step with the lights, yet the ground does not move: ${both}. Were the lights on?`;
    return [
      {
        id: 'step-without-ground',
        says,
        again: [...again(on), { kind: 'answer', question: question.lights }],
      },
    ];
  }
  if (isUnchanged) {
    const says = `Nothing changed: ${both}. Were the lights on?`;
    return [{ id: 'lights-unseen', says, again: again(on) }];
  }
  const moved = Math.abs(
    (worth?.groundWorth.lights?.partOfScale ?? 0) - (worth?.groundWorth.off?.partOfScale ?? 0),
  );
  if (step !== 'no' || !(moved > SEEN_PART)) return [];
  const says = `The needle was said not to step with the lights, yet the ground moves enough to be seen: ${both}. Look again, with the needle off its stops`;
  return [
    {
      id: 'ground-without-step',
      says,
      again: [{ kind: 'answer', question: question.lights }, ...again(on)],
    },
  ];
}

/** A needle that moves is fed through the wire it hangs on. */
function deadWire(facts: CheckFacts): Contradiction[] {
  const open = measured(facts, 'open-circuit-volt');
  if (open === undefined) return [];
  const load = facts.answers[question.knownLoad];
  if (Math.abs(open.value) < DEAD_WIRE_VOLT && (load === 'there' || load === 'elsewhere')) {
    const says = `${volts(open)} on the open sender wire means that nothing comes through the gauge, yet the needle moved with a resistor on that wire. One of the two is wrong`;
    const asked: Again = { kind: 'answer', question: question.knownLoad };
    return [{ id: 'dead-wire-moves', says, again: [...again(open), asked] }];
  }
  return [];
}

const LOADED_ROOM_PART = 1 + ROOM_PART;

/** A load takes volts away. Told of steady feeds only: on a pulsing one a meter shows whatever the pulse is at. */
function loaded(facts: CheckFacts): Contradiction[] {
  const open = measured(facts, 'open-circuit-volt');
  const load = measured(facts, 'loaded-volt');
  const { mechanism } = facts.gauge;
  if (open === undefined || load === undefined || mechanism === 'thermal' || mechanism === 'unknown')
    return [];
  if (Math.abs(load.value) <= LOADED_ROOM_PART * Math.abs(open.value) + ROOM_VOLT) return [];
  const says = `${volts(load)} with the resistor on the sender wire is more than ${volts(open)} without it; a resistor takes volts away. Measure both again`;
  return [{ id: 'loaded-above-open', says, again: again(load, open) }];
}

/**
 * What was said and measured that cannot all be so. Nothing is concluded over one of these. `worth`: what the ground
 * offsets are worth on the dial, where it is known.
 */
export const contradictions = (facts: CheckFacts, worth?: CheckFinding): readonly Contradiction[] => [
  ...aboveSupply(facts),
  ...lights(facts, worth),
  ...deadWire(facts),
  ...loaded(facts),
];
