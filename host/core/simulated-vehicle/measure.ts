import type { TestName } from '../diagnosis/names';
import type { RandomSource } from '../numeric/random';
import { NODE, ohmBetween, senderBranches, solved, type Loads, type OnPlug, type Solved } from './circuit';
import { goodOhmAt, seenAt } from './needle';
import type { Vehicle } from './vehicle';

/** Who measures: an eye and a box, or an eye and a meter of a garage; part of readings that are a wrong digit. */
export type Observer = {
  readonly random: RandomSource;
  readonly hasBox: boolean;
  readonly wrongDigits: number;
  /** The known loads that are put on its sender lead, ohm. */
  readonly loads: { readonly middleOhm: number; readonly lowestOhm: number };
};

const ownSenderOhm = (vehicle: Vehicle, place: number): number => {
  const { family, senderRatio, senderSlope, isReversed, stuckOhm } = vehicle;
  if (stuckOhm !== undefined) return stuckOhm;
  const good = goodOhmAt(family, place);
  const centre = Math.sqrt(Math.max(0.5, family.lowEndOhm) * Math.max(0.5, family.highEndOhm));
  return senderRatio * centre * (good / centre) ** (isReversed ? -senderSlope : senderSlope);
};

/** Two senders with a common terminal are one resistance to whoever looks from the plug. */
function senderOhm(vehicle: Vehicle, place: number): number {
  const own = ownSenderOhm(vehicle, place);
  const { otherSenderRatio, family } = vehicle;
  return otherSenderRatio === undefined
    ? own
    : 1 / (1 / own + 1 / (otherSenderRatio * goodOhmAt(family, place)));
}

const asFound = (vehicle: Vehicle, place: number, loads: Loads = 'quiet'): Solved =>
  solved(vehicle, { kind: 'sender', ohm: senderOhm(vehicle, place) }, loads);

const FLAT_PLACES = [0.5, 0.59] as const;
const yes = ({ random }: Observer, chance: number): number => (random.uniform() < chance ? 1 : 0);

type Look = (vehicle: Vehicle, observer: Observer) => number;

const side = ({ random }: Observer): number => 2 * random.uniform() - 1;
type Stage = (vehicle: Vehicle, observer: Observer) => Solved;
const onLoad =
  (which: 'middleOhm' | 'lowestOhm', state: Loads = 'quiet'): Stage =>
  (vehicle, { loads }) =>
    solved(vehicle, { kind: 'resistor', ohm: loads[which] }, state);
const OPEN: OnPlug = { kind: 'open' };
const needle =
  (stage: Stage): Look =>
  (vehicle, observer) =>
    seenAt(vehicle, stage(vehicle, observer), side(observer));
const volts =
  (node: number, stage: Stage, factor = 1): Look =>
  (vehicle, observer) =>
    factor * (stage(vehicle, observer).volts[node] ?? 0);
const middle = onLoad('middleOhm');
const litMiddle = onLoad('middleOhm', 'loaded');

/** Nearer than this to where it should stand a needle is said to read right, part of the scale. */
const READS_RIGHT = 0.06;
const GOOD_LAG = 0.005;

const withGoodGauge = (vehicle: Vehicle): Vehicle => ({
  ...vehicle,
  ...{ firstOhm: vehicle.family.gaugeOhm, secondOhm: vehicle.family.operatingOhm },
  ...{ firstTurns: 1, secondTurns: 1, crossing: 1, madeForEnds: 1, isDead: false },
  ...{ lag: GOOD_LAG, offset: 0, gain: 1, flat: undefined },
});

/** Whether a needle that was seen to be wrong reads right with another part in the circuit; some are mistaken. */
function isPutRight(before: Vehicle, after: Solved, other: Vehicle, observer: Observer): number {
  const off = (vehicle: Vehicle, state: Solved): number =>
    Math.abs(seenAt(vehicle, state, side(observer)) - before.coolPlace);
  const wasWrong = off(before, asFound(before, before.coolPlace)) > READS_RIGHT;
  return yes(observer, wasWrong && off(other, after) < READS_RIGHT ? 0.95 : 0.03);
}

/** What each test shows on a vehicle, without the reading's own error. */
const looks: Readonly<Record<TestName, Look>> = {
  'as-found': needle((vehicle) => asFound(vehicle, vehicle.coolPlace)),
  'as-found-warm': needle((vehicle) => asFound(vehicle, vehicle.warmPlace)),
  'moves-right': (vehicle, observer) => {
    // What whoever drives it has seen on its needle: from here to far away.
    const way = vehicle.coolPlace < 0.5 ? 1 : -1;
    const [here, there] = [vehicle.coolPlace, vehicle.coolPlace + 0.4 * way].map((place) =>
      seenAt(vehicle, asFound(vehicle, place), side(observer)),
    );
    return yes(observer, way * ((there ?? 0) - (here ?? 0)) > 0.1 ? 0.96 : 0.05);
  },
  'rest-mark': ({ offset }) => offset,
  'other-gauges': ({ othersWrong }, observer) => yes(observer, othersWrong),
  branches: ({ otherGauge, otherSenderRatio }, observer) =>
    yes(observer, otherGauge || otherSenderRatio !== undefined ? 0.93 : 0.02),
  'lead-off': needle((vehicle) => solved(vehicle, OPEN)),
  'middle-load': needle(middle),
  'lowest-load': needle(onLoad('lowestOhm')),
  lights: (vehicle, observer) => {
    const from = side(observer);
    const [lit, dark] = [litMiddle(vehicle, observer), middle(vehicle, observer)];
    return seenAt(vehicle, lit, from) - seenAt(vehicle, dark, from);
  },
  'both-ways': (vehicle, observer) => {
    const state = middle(vehicle, observer);
    return seenAt(vehicle, state, 1) - seenAt(vehicle, state, -1);
  },
  'flat-step': (vehicle) => {
    const [low, high] = FLAT_PLACES.map((place) => {
      const ohm = goodOhmAt(vehicle.family, place);
      return seenAt(vehicle, solved(vehicle, { kind: 'resistor', ohm }), 0);
    });
    return (high ?? 0) - (low ?? 0);
  },
  'open-volt': volts(NODE.plug, (vehicle) => solved(vehicle, OPEN)),
  'open-pulses': (vehicle, observer) => {
    const { isPulsing, volts: at } = solved(vehicle, { kind: 'resistor', ohm: 1e6 });
    return yes(observer, isPulsing && Math.abs(at[NODE.plug] ?? 0) > 1 ? 0.97 : 0.02);
  },
  'loaded-volt': volts(NODE.plug, middle),
  'second-load': volts(NODE.plug, onLoad('lowestOhm')),
  battery: volts(NODE.live, (vehicle) => asFound(vehicle, vehicle.coolPlace)),
  'hex-ohm': (vehicle) =>
    ohmBetween(senderBranches(vehicle, senderOhm(vehicle, vehicle.coolPlace)), NODE.hex, NODE.ground),
  'hex-quiet': volts(NODE.hex, (vehicle) => asFound(vehicle, vehicle.coolPlace), 1000),
  'hex-loaded': volts(NODE.hex, (vehicle) => asFound(vehicle, vehicle.coolPlace, 'loaded'), 1000),
  'sender-plug': (vehicle) =>
    ohmBetween(senderBranches(vehicle, senderOhm(vehicle, vehicle.coolPlace)), NODE.plug, NODE.ground),
  'sender-body': (vehicle) =>
    ohmBetween(senderBranches(vehicle, senderOhm(vehicle, vehicle.coolPlace)), NODE.plug, NODE.hex),
  'sender-warm': (vehicle) =>
    ohmBetween(senderBranches(vehicle, senderOhm(vehicle, vehicle.warmPlace)), NODE.plug, NODE.hex),
  feed: volts(NODE.feed, (vehicle) => asFound(vehicle, vehicle.coolPlace)),
  'case-quiet': volts(NODE.case, middle, 1000),
  'case-loaded': volts(NODE.case, litMiddle, 1000),
  'stabiliser-ground': ({ stabiliser }) => stabiliser.groundOhm,
  'wire-ohm': ({ wireOhm }) => wireOhm,
  'wire-leak': ({ chafeOhm, bodyStrapOhm }) => chafeOhm + bodyStrapOhm,
  'gauge-ohm': ({ firstOhm }) => firstOhm,
  'gauge-ground-ohm': ({ secondOhm }) => secondOhm,
  wiggle: ({ looseJoint }, observer) => yes(observer, looseJoint),
  'swap-sender': (vehicle, observer) => {
    // Its body is clipped to the battery's grounded post: the way over the engine is left out.
    const ohm = goodOhmAt(vehicle.family, vehicle.coolPlace);
    return isPutRight(vehicle, solved(vehicle, { kind: 'resistor', ohm }), vehicle, observer);
  },
  'swap-stabiliser': (vehicle, observer) => {
    const { family } = vehicle;
    const stabiliser = { contact: 'works', heatVolt: family.feedVolt, groundOhm: 0.05 } as const;
    const other = { ...vehicle, stabiliser };
    return isPutRight(vehicle, asFound(other, other.coolPlace), other, observer);
  },
  'swap-gauge': (vehicle, observer) => {
    const other = withGoodGauge(vehicle);
    return isPutRight(vehicle, asFound(other, other.coolPlace), other, observer);
  },
  'grounded-post': ({ isPositiveGround }) => (isPositiveGround ? 1 : 0),
  rocking: ({ hasDropouts }, observer) => yes(observer, hasDropouts ? 0.88 : 0.03),
};

const PLACES: readonly TestName[] = ['as-found', 'as-found-warm', 'lead-off', 'middle-load', 'lowest-load'];
const STEPS: readonly TestName[] = ['rest-mark', 'lights', 'both-ways', 'flat-step'];
const ASKED: readonly TestName[] = [
  ...([
    'other-gauges',
    'branches',
    'open-pulses',
    'wiggle',
    'rocking',
    'grounded-post',
    'moves-right',
  ] as const),
  ...(['swap-sender', 'swap-stabiliser', 'swap-gauge'] as const),
];
const MILLIVOLTS: readonly TestName[] = ['hex-quiet', 'hex-loaded', 'case-quiet', 'case-loaded'];
const VOLTS: readonly TestName[] = ['open-volt', 'loaded-volt', 'second-load', 'battery', 'feed'];

const MOST_OHM = 2e6;

/** What an instrument of this kind would show; a person's eye halves a division. Common practice, no source. */
function withError(test: TestName, value: number, { random, hasBox }: Observer): number {
  if (ASKED.includes(test)) return value;
  if (PLACES.includes(test)) return value + 0.01 * random.normal();
  if (STEPS.includes(test)) return value + 0.008 * random.normal();
  if (MILLIVOLTS.includes(test)) return value * (1 + 0.012 * random.normal()) + 0.6 * random.normal();
  if (VOLTS.includes(test))
    return value * (1 + 0.004 * random.normal()) + (hasBox ? 0.01 : 0.02) * random.normal();
  const leads = hasBox ? 0.02 : 0.07;
  return Math.min(MOST_OHM, Math.max(0, value * (1 + 0.006 * random.normal()) + leads * random.normal()));
}

/** A digit read or written wrongly: another place of the needle, ten times too much, the neighbouring figure. */
function wrongDigit(test: TestName, value: number, random: RandomSource): number {
  if (ASKED.includes(test)) return 1 - value;
  if (PLACES.includes(test) || STEPS.includes(test))
    return value + (random.uniform() < 0.5 ? -0.1 : 0.1) * (1 + random.uniform());
  const choice = random.uniform();
  if (choice < 0.3) return value * 10;
  return choice < 0.6
    ? value / 10
    : value * (1 + (random.uniform() < 0.5 ? -1 : 1) * (0.2 + 0.5 * random.uniform()));
}

/** One reading of a test: parts of the scale, volt, millivolt, ohm; 1 and 0 for yes and no. */
export function measure(vehicle: Vehicle, test: TestName, observer: Observer): number {
  const value = withError(test, looks[test](vehicle, observer), observer);
  return observer.random.uniform() < observer.wrongDigits ? wrongDigit(test, value, observer.random) : value;
}

const TYPICAL_PLACES = [0.2, 0.5, 0.8] as const;

/** How far a fault moves the needle at most, part of the scale: against the same vehicle without it. */
export function worthOf(faulty: Vehicle, sound: Vehicle): number {
  return Math.max(
    ...TYPICAL_PLACES.flatMap((place) =>
      (['quiet', 'loaded'] as const).map((loads) =>
        Math.abs(
          seenAt(faulty, asFound(faulty, place, loads), 1) - seenAt(sound, asFound(sound, place, loads), 1),
        ),
      ),
    ),
  );
}
