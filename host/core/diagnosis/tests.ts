import type { Car } from './car';
import { causeRow } from './causes';
import { testNames, waysOfWorking, type CauseName, type Part, type TestName, type Way } from './names';
import type { State } from './circuit';
import { hasOwnGround, hasTrack, type GaugeFamily } from './family';
import { restingPlace } from './needle';

/** What an outcome is kept as: a part of the scale, volt, ohm (by ln), millivolt (by asinh), or the chance of a yes. */
export type Measure = 'place' | 'step' | 'volt' | 'ohm' | 'millivolt' | 'chance';

export type Access = 'lead' | 'dash' | 'hot';

/** One vehicle, solved in every state that a test looks at it in. */
export type Bench = {
  readonly car: Car;
  readonly family: GaugeFamily;
  readonly cause: CauseName;
  /** Where the needle should stand as the vehicle stands, part of the scale. */
  readonly truePlace: number;
  /** The sender's own ohms as it stands and with the engine hot. */
  readonly senderOhm: number;
  readonly warmOhm: number;
  /** As it stands, quiet and with loads on; with the engine hot; the lead off; on the known loads. */
  readonly cool: State;
  readonly loaded: State;
  readonly warm: State;
  /** At another true value, far from where it stands, above it or below. */
  readonly elsewhere: State;
  readonly isElsewhereHigher: boolean;
  readonly open: State;
  readonly middle: State;
  readonly lit: State;
  readonly lowest: State;
  /** How far the needle moves between two loads inside the stretch where an electronic one may hold still. */
  readonly flatStep: number;
};

type TestRow = {
  readonly measure: Measure;
  readonly minutes: number;
  /** A needle has to come to rest: a hot-wire one takes a minute more. */
  readonly hasNeedle: boolean;
  /** Minutes for a second setting that the test needs. */
  readonly access: readonly Access[];
  readonly risk: number;
  readonly ways: readonly Way[];
  readonly isIn: (family: GaugeFamily) => boolean;
  readonly outcome: (bench: Bench) => number;
  /** Whether each try of a question has a chance of its own, so that a second one tells more. */
  readonly isAnew: boolean;
  /** Of two faults a question is answered yes by either; here by both alone. */
  readonly isOfBoth: boolean;
};

const always = (): boolean => true;
const isElectric = ({ kind }: GaugeFamily): boolean => kind !== 'electronic';
const isStabilised = ({ isStabilised: is }: GaugeFamily): boolean => is;
const isThermistor = ({ quantity }: GaugeFamily): boolean => quantity === 'temperature';
const hasRestMark = ({ kind }: GaugeFamily): boolean => kind === 'thermal' || kind === 'moving-coil';

const EVERY: readonly Way[] = waysOfWorking;
const LOADS: readonly Way[] = ['box', 'meter', 'resistors'];
const METER: readonly Way[] = ['box', 'meter'];
const BOX: readonly Way[] = ['box'];
const LEAD: readonly Access[] = ['lead'];
const DASH: readonly Access[] = ['dash'];

/** What a meter makes of a chopped current, over what it heats: the heating volts over the peak. */
const pulseMean = (car: Car, { isStabilised: is, feedVolt }: GaugeFamily): number =>
  is && car.stabiliser === 'works' ? Math.min(1, feedVolt / car.batteryVolt) : 1;

const hexVolt = (bench: Bench, isLoaded: boolean): number => {
  const { car, family, cool, loaded } = bench;
  const senderAmp = (isLoaded ? loaded : cool).senderAmp * pulseMean(car, family);
  const strapAmp = isLoaded ? car.strapAmpOn : car.strapAmpOff;
  return 1000 * (senderAmp * (car.hexOhm + car.strapOhm) + strapAmp * car.strapOhm);
};

const OFTEN = 0.9;
const SELDOM = 0.05;
const SHARED_BY_OTHERS: Partial<Record<CauseName, number>> = {
  ...{ 'stabiliser-open': OFTEN, 'stabiliser-closed': OFTEN, 'stabiliser-drifted': 0.85 },
  ...{ 'stabiliser-ground': OFTEN, 'feed-resistance': 0.6, 'weak-battery': 0.7 },
  ...{ 'shared-ground': 0.75, 'engine-strap': 0.4 },
};

/** Joints that make and break when they are moved. Assumptions, common practice, no source. */
const WIGGLED: Partial<Record<CauseName, number>> = {
  ...{ 'wire-corroded': 0.5, 'wire-open': 0.25, 'case-wire': 0.45, 'feed-resistance': 0.3 },
  ...{ 'wire-chafed': 0.35, 'sender-seal': 0.2, 'engine-strap': 0.15, 'shared-ground': 0.2 },
};

/** A needle that goes so far the right way is remembered to do so. Assumptions, common practice, no source. */
const LEAST_STEP = 0.12;
const STEP_ROOM = 0.03;
const MOVES_OFTEN = 0.95;
const MOVES_SELDOM = 0.06;

/** A needle that is so little off is not seen to be wrong, part of the scale. An assumption. */
const SEEN_OFF = 0.05;
/** A good part in place of the one at fault puts the needle right, if it was seen to be wrong. Assumptions. */
const PUT_RIGHT = 0.93;
const RIGHT_BY_CHANCE = 0.04;

/** Chance that a good part put in for one of these lets the needle read right where it read wrong before. */
const swap =
  (parts: readonly Part[]): TestRow['outcome'] =>
  ({ cause, cool, truePlace }) => {
    if (!parts.includes(causeRow(cause).part)) return RIGHT_BY_CHANCE;
    const isSeen = 1 - Math.exp(-(((cool.place - truePlace) / SEEN_OFF) ** 2));
    return RIGHT_BY_CHANCE + (PUT_RIGHT - RIGHT_BY_CHANCE) * isSeen;
  };
const SWAPPED = { isOfBoth: true } as const;

const row = (
  measure: Measure,
  minutes: number,
  outcome: TestRow['outcome'],
  rest: Partial<Omit<TestRow, 'measure' | 'minutes' | 'outcome'>> = {},
): TestRow => ({
  ...{ measure, minutes, outcome, access: [], risk: 1, ways: EVERY, isIn: always },
  ...{ isAnew: false, isOfBoth: false },
  hasNeedle: measure === 'place' || measure === 'step',
  ...rest,
});

/** Minutes and risks are assumptions, common practice, no source. */
const tests: Readonly<Record<TestName, TestRow>> = {
  'as-found': row('place', 0.5, ({ cool }) => cool.place),
  'as-found-warm': row('place', 0.5, ({ warm }) => warm.place, {
    ...{ access: ['hot'], risk: 1.5, isIn: ({ quantity }) => quantity !== 'fuel' },
  }),
  'moves-right': row('chance', 0.3, ({ cool, elsewhere, isElsewhereHigher }) => {
    const step = (elsewhere.place - cool.place) * (isElsewhereHigher ? 1 : -1);
    return MOVES_SELDOM + (MOVES_OFTEN - MOVES_SELDOM) / (1 + Math.exp((LEAST_STEP - step) / STEP_ROOM));
  }),
  'rest-mark': row('step', 0.3, ({ car }) => car.shift, { isIn: hasRestMark }),
  'other-gauges': row('chance', 0.5, ({ cause }) => SHARED_BY_OTHERS[cause] ?? SELDOM),
  branches: row('chance', 1.5, ({ car }) => (car.hasSecondGauge || car.hasSecondSender ? 0.92 : 0.03)),
  'lead-off': row('place', 0.4, ({ open }) => open.place, { access: LEAD }),
  'middle-load': row('place', 0.4, ({ middle }) => middle.place, { access: LEAD, ways: LOADS }),
  'lowest-load': row('place', 0.4, ({ lowest }) => lowest.place, { access: LEAD, ways: LOADS, risk: 1.1 }),
  lights: row('step', 0.7, ({ lit, middle }) => lit.place - middle.place, { access: LEAD, ways: LOADS }),
  'both-ways': row(
    'step',
    1.5,
    ({ middle, car }) => restingPlace(middle.pulledPlace, car, 1) - restingPlace(middle.pulledPlace, car, -1),
    { access: LEAD, ways: LOADS },
  ),
  'flat-step': row('step', 1.2, ({ flatStep }) => flatStep, {
    ...{ access: LEAD, ways: LOADS, isIn: ({ kind }) => kind === 'electronic' },
  }),
  /** What heats, where a stabiliser chops: the square root of the mean square. */
  'open-volt': row('volt', 0.5, ({ open }) => open.plugVolt, { access: LEAD, ways: METER }),
  /** What a meter's dancing figures tell where a stabiliser chops: pulses, or not. */
  'open-pulses': row(
    'chance',
    0.5,
    ({ car }) => (car.stabiliser === 'works' && car.gaugeFactor < 100 && car.wireOhm < 1e5 ? 0.96 : 0.03),
    { access: LEAD, ways: METER, isIn: isStabilised },
  ),
  'loaded-volt': row('volt', 0.8, ({ middle }) => middle.plugVolt, { access: LEAD, ways: METER }),
  /** With the volts on the middle load it tells the source behind the lead: what it gives, and its ohms. */
  'second-load': row('volt', 0.8, ({ lowest }) => lowest.plugVolt, { access: LEAD, ways: METER, risk: 1.1 }),
  battery: row('volt', 0.5, ({ car }) => car.batteryVolt, { ways: METER }),
  'hex-ohm': row('ohm', 0.8, ({ car }) => car.hexOhm + car.strapOhm, { ways: METER }),
  'hex-quiet': row('millivolt', 0.8, (bench) => hexVolt(bench, false), { ways: METER }),
  'hex-loaded': row('millivolt', 1, (bench) => hexVolt(bench, true), { ways: METER }),
  'sender-plug': row('ohm', 0.5, ({ senderOhm, car }) => senderOhm + car.hexOhm + car.strapOhm, {
    ...{ access: LEAD, ways: METER },
  }),
  'sender-body': row('ohm', 0.5, ({ senderOhm }) => senderOhm, { access: LEAD, ways: METER }),
  'sender-warm': row('ohm', 2, ({ warmOhm }) => warmOhm, {
    ...{ access: ['lead', 'hot'], ways: METER, risk: 1.5, isIn: isThermistor },
  }),
  feed: row('volt', 0.7, ({ cool }) => cool.feedVolt, { access: DASH, ways: METER }),
  'case-quiet': row('millivolt', 0.8, ({ middle }) => 1000 * middle.caseVolt, {
    ...{ access: ['dash', 'lead'], ways: METER, isIn: hasOwnGround },
  }),
  'case-loaded': row('millivolt', 1, ({ lit }) => 1000 * lit.caseVolt, {
    ...{ access: ['dash', 'lead'], ways: METER, isIn: hasOwnGround },
  }),
  'stabiliser-ground': row('ohm', 0.7, ({ car }) => car.stabiliserGroundOhm, {
    ...{ access: DASH, ways: METER, isIn: isStabilised },
  }),
  'wire-ohm': row('ohm', 1, ({ car }) => car.wireOhm, { access: ['dash', 'lead'], ways: METER }),
  'wire-leak': row('ohm', 0.7, ({ car }) => car.leakOhm, { access: ['dash', 'lead'], ways: METER }),
  'gauge-ohm': row('ohm', 1.5, ({ car, family }) => car.gaugeFactor * family.gaugeOhm, {
    ...{ access: DASH, ways: METER, isIn: isElectric },
  }),
  'gauge-ground-ohm': row('ohm', 1, ({ car, family }) => car.operatingFactor * family.operatingOhm, {
    ...{ access: DASH, ways: METER, isIn: ({ operatingOhm }) => operatingOhm > 0 },
  }),
  wiggle: row('chance', 2, ({ cause }) => WIGGLED[cause] ?? 0.03, { isAnew: true }),
  'swap-sender': row('chance', 20, swap(['sender', 'curve', 'sender-ground']), {
    ...SWAPPED,
    access: LEAD,
  }),
  'swap-stabiliser': row('chance', 20, swap(['stabiliser']), {
    ...SWAPPED,
    access: DASH,
    isIn: isStabilised,
  }),
  'swap-gauge': row('chance', 20, swap(['gauge', 'flat-zone']), { ...SWAPPED, access: DASH }),
  /** A fact of the vehicle and no fault: it tells no part from another, and what volts are counted from. */
  'grounded-post': row('chance', 0.3, () => 0.5, { ways: METER }),
  rocking: row('chance', 4, ({ car }) => (car.sender.isWorn ? 0.92 : 0.03), { isIn: hasTrack, isAnew: true }),
};

export const testRow = (name: TestName): TestRow => tests[name];
export const isTestName = (name: string): name is TestName => testNames.some((each) => each === name);

/** What shares nothing with the needle's circuit while it is sound. */
const ASIDE: readonly TestName[] = [
  ...(['lights', 'both-ways', 'hex-ohm', 'hex-quiet', 'hex-loaded', 'case-quiet', 'case-loaded'] as const),
  ...(['stabiliser-ground', 'wire-ohm', 'wire-leak', 'gauge-ohm', 'gauge-ground-ohm', 'flat-step'] as const),
];

/** Whether a test shares nothing with the others, of a vehicle in which it shows nothing wrong. */
export const isAside = (name: TestName, { isStabilised: is }: GaugeFamily): boolean =>
  ASIDE.includes(name) || (is && (name === 'battery' || name === 'feed'));

/** Only the box tells the heat of a chopped feed; a hand meter sees whether it pulses. */
const NEEDS_BOX: readonly TestName[] = ['open-volt', 'loaded-volt', 'second-load'];

/** Whether a test tells anything of this family, done in this way. */
export function isPossible(name: TestName, family: GaugeFamily, way: Way): boolean {
  const { isIn, ways } = testRow(name);
  const allowed = family.isStabilised && NEEDS_BOX.includes(name) ? BOX : ways;
  return isIn(family) && allowed.includes(way);
}

/** What a test is asked with: ohms that are put on the sender wire, left out where nothing is. */
export function loadOf(
  name: TestName,
  loads: { readonly middleOhm: number; readonly lowestOhm: number },
): number | undefined {
  if (name === 'lowest-load' || name === 'second-load') return loads.lowestOhm;
  return ON_MIDDLE_LOAD.includes(name) ? loads.middleOhm : undefined;
}

const ON_MIDDLE_LOAD: readonly TestName[] = [
  ...(['middle-load', 'lights', 'both-ways', 'loaded-volt', 'case-quiet', 'case-loaded'] as const),
];
