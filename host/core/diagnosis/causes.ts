import type { Car } from './car';
import { hasOwnGround, hasTrack, type GaugeFamily } from './family';
import type { CauseName, Part, TestName } from './names';

type Fault = (car: Car, family: GaugeFamily, u: readonly number[]) => Partial<Car>;

type CauseRow = {
  readonly part: Part;
  /** Assumed share of the vehicles that come to a shop, over the others: nobody has published figures. */
  readonly weight: number;
  readonly isIn: (family: GaugeFamily) => boolean;
  /** What it does to a sound vehicle; `u`: uniform draws that its size is made of. */
  readonly fault: Fault;
  /** What must have been measured before it may be named: of each list at least one. */
  readonly proof: readonly (readonly TestName[])[];
};

const always = (): boolean => true;
const isStabilised = ({ isStabilised: is }: GaugeFamily): boolean => is;
const isElectric = (family: GaugeFamily): boolean => family.kind !== 'electronic';

/** Evenly by ratio between two sizes. */
const between = (least: number, most: number, u = 0.5): number => least * (most / least) ** u;
/** The same, or its inverse: too much or too little. */
const eitherWay = (least: number, most: number, u: number, side: number): number =>
  side < 0.5 ? between(least, most, u) : 1 / between(least, most, u);
const at = (u: readonly number[], index: number): number => u[index] ?? 0.5;

/** Of the senders of another family, those that run the other way. An assumption. */
const REVERSED = 0.35;

/** What is broken still conducts a little: dirt, damp, the edge of a crack. */
const openOhm = (u: number): number => between(2e5, 2e7, u);

/** The size at which extra ohms in the sender's way begin to matter: a part of its lowest. */
const smallOhm = ({ kind, lowEndOhm, highEndOhm, gaugeOhm, operatingOhm }: GaugeFamily): number => {
  const span = Math.abs(highEndOhm - lowEndOhm);
  if (kind === 'two-coil') return 0.06 * span;
  const least = Math.min(lowEndOhm, highEndOhm);
  const beside = operatingOhm === 0 ? gaugeOhm : (gaugeOhm * operatingOhm) / (gaugeOhm + operatingOhm);
  return 0.06 * (least + (kind === 'electronic' ? 0 : beside));
};

/** Ohms that must be met before a sender wire is believed: its own ohms at its body, and a gauge that reads right. */
const CURVE_PROOF = [['sender-body', 'sender-plug'], ['middle-load', 'lowest-load'], ['branches']] as const;
const HEX_PROOF = [['hex-ohm', 'hex-loaded']] as const;
const CASE_PROOF = [['case-quiet'], ['case-loaded']] as const;

/** Sizes are assumptions, common practice, no source; every row is one thing that somebody would repair. */
const causes: Readonly<Record<CauseName, CauseRow>> = {
  sound: {
    ...{ part: 'sound', weight: 14, isIn: always, fault: () => ({}) },
    proof: [
      ['open-volt', 'open-pulses'],
      ['loaded-volt', 'lowest-load'],
      ['middle-load', 'lowest-load'],
      ['both-ways'],
      ['sender-plug'],
      ['hex-ohm'],
      ['hex-loaded'],
    ],
  },
  'sender-open': {
    ...{ part: 'sender', weight: 5, isIn: always },
    fault: (car, _, u) => ({ sender: { ...car.sender, fixedOhm: openOhm(at(u, 0)) } }),
    proof: [['sender-plug', 'sender-body']],
  },
  'sender-shorted': {
    ...{ part: 'sender', weight: 3, isIn: always },
    fault: (car, _, u) => ({ sender: { ...car.sender, fixedOhm: between(0.05, 1, at(u, 0)) } }),
    proof: [['sender-plug', 'sender-body']],
  },
  'sender-worn': {
    ...{ part: 'sender', weight: 6, isIn: hasTrack },
    fault: (car, _, u) => ({
      sender: { ...car.sender, isWorn: true, factor: car.sender.factor * between(0.95, 1.12, at(u, 0)) },
    }),
    proof: [['rocking']],
  },
  'sender-drifted': {
    ...{ part: 'curve', weight: 7, isIn: always },
    fault: (car, _, u) => ({
      sender: { ...car.sender, factor: car.sender.factor * eitherWay(1.2, 2.3, at(u, 0), at(u, 1)) },
    }),
    proof: CURVE_PROOF,
  },
  'sender-of-another-family': {
    ...{ part: 'curve', weight: 8, isIn: always },
    fault: (car, _, u) => ({
      sender: {
        ...car.sender,
        isReversed: at(u, 2) < REVERSED,
        // The other way round a sender may have the right ohms in its middle.
        factor:
          car.sender.factor *
          eitherWay(at(u, 2) < REVERSED ? 1 : 1.15, at(u, 2) < REVERSED ? 2 : 4, at(u, 0), at(u, 1)),
        slope: car.sender.slope * between(0.6, 1.5, at(u, 3)),
      },
    }),
    proof: CURVE_PROOF,
  },
  'sender-seal': {
    ...{ part: 'sender-ground', weight: 6, isIn: always },
    fault: (_, family, u) => ({ hexOhm: between(smallOhm(family), 60 * smallOhm(family), at(u, 0)) }),
    proof: HEX_PROOF,
  },
  'engine-strap': {
    ...{ part: 'sender-ground', weight: 4, isIn: always },
    fault: (_, family, u) => ({ strapOhm: between(0.08, 0.08 + smallOhm(family), at(u, 0)) }),
    proof: HEX_PROOF,
  },
  'case-wire': {
    ...{ part: 'gauge-ground', weight: 5, isIn: (family) => hasOwnGround(family) && isElectric(family) },
    fault: (_, { operatingOhm }, u) => ({
      caseOhm: between(0.1 * operatingOhm, 60 * operatingOhm, at(u, 0)),
    }),
    proof: CASE_PROOF,
  },
  'shared-ground': {
    ...{ part: 'gauge-ground', weight: 5, isIn: hasOwnGround },
    fault: (_, { kind }, u) => ({
      sharedGroundOhm: kind === 'electronic' ? between(0.02, 0.12, at(u, 0)) : between(0.03, 0.25, at(u, 0)),
    }),
    proof: CASE_PROOF,
  },
  'wire-open': {
    ...{ part: 'wire', weight: 4, isIn: always },
    fault: (_, __, u) => ({ wireOhm: openOhm(at(u, 0)) }),
    proof: [['wire-ohm']],
  },
  'wire-corroded': {
    ...{ part: 'wire', weight: 7, isIn: always },
    fault: (_, family, u) => ({ wireOhm: between(smallOhm(family), 60 * smallOhm(family), at(u, 0)) }),
    proof: [['wire-ohm']],
  },
  'wire-chafed': {
    ...{ part: 'wire', weight: 4, isIn: always },
    fault: (_, { lowEndOhm, highEndOhm }, u) => ({
      leakOhm: between(0.3, 12 * Math.max(lowEndOhm, highEndOhm), at(u, 0)),
    }),
    proof: [['wire-leak']],
  },
  'stabiliser-open': {
    ...{ part: 'stabiliser', weight: 3, isIn: isStabilised, fault: () => ({ stabiliser: 'open' }) },
    proof: [['open-volt', 'open-pulses']],
  },
  'stabiliser-closed': {
    ...{ part: 'stabiliser', weight: 4, isIn: isStabilised, fault: () => ({ stabiliser: 'closed' }) },
    proof: [['open-volt', 'open-pulses'], ['stabiliser-ground']],
  },
  'stabiliser-drifted': {
    ...{ part: 'stabiliser', weight: 4, isIn: isStabilised },
    fault: (_, __, u) => ({ stabiliserFactor: eitherWay(1.08, 1.3, at(u, 0), at(u, 1)) }),
    // Open volts alone may come through a break: with a load on, they are the stabiliser's.
    proof: [['open-volt'], ['loaded-volt', 'second-load', 'middle-load', 'lowest-load']],
  },
  'stabiliser-ground': {
    ...{ part: 'stabiliser', weight: 3, isIn: isStabilised },
    fault: (_, __, u) => ({ stabiliser: 'closed', stabiliserGroundOhm: between(20, 1e5, at(u, 0)) }),
    proof: [['open-volt', 'open-pulses'], ['stabiliser-ground']],
  },
  'feed-resistance': {
    ...{ part: 'supply', weight: 4, isIn: always },
    fault: (_, { gaugeOhm, kind }, u) => ({
      feedOhm: between(0.8, kind === 'electronic' ? 5 : Math.max(8, 0.6 * gaugeOhm), at(u, 0)),
    }),
    proof: [['feed'], ['battery']],
  },
  'weak-battery': {
    ...{ part: 'supply', weight: 3, isIn: always },
    fault: (_, __, u) => ({ batteryVolt: between(8.3, 11.3, at(u, 0)) }),
    proof: [['battery']],
  },
  'second-gauge': {
    ...{ part: 'shared-wire', weight: 2, isIn: always, fault: () => ({ hasSecondGauge: true }) },
    proof: [['loaded-volt', 'middle-load'], ['branches']],
  },
  'second-sender': {
    ...{ part: 'shared-wire', weight: 2, isIn: always, fault: () => ({ hasSecondSender: true }) },
    proof: [['sender-plug', 'sender-body'], ['branches']],
  },
  'gauge-open': {
    ...{ part: 'gauge', weight: 4, isIn: always },
    fault: (_, { gaugeOhm, operatingOhm, kind }, u) =>
      kind === 'electronic'
        ? { isDead: true, isMute: at(u, 1) < 0.5 }
        : operatingOhm > 0 && at(u, 0) < 0.5
          ? { operatingFactor: openOhm(at(u, 1)) / operatingOhm }
          : { gaugeFactor: openOhm(at(u, 1)) / gaugeOhm },
    proof: [['gauge-ohm', 'feed']],
  },
  'gauge-turns': {
    ...{ part: 'gauge', weight: 3, isIn: isElectric },
    fault: (car, { operatingOhm }, u) => {
      const left = between(0.4, 0.88, at(u, 0));
      return operatingOhm > 0 && at(u, 1) < 0.5
        ? { operatingFactor: car.operatingFactor * left, operatingTurns: left }
        : { gaugeFactor: car.gaugeFactor * left, gaugeTurns: left };
    },
    proof: [['gauge-ohm', 'gauge-ground-ohm']],
  },
  'gauge-of-another-kind': {
    ...{ part: 'gauge', weight: 5, isIn: always },
    fault: (car, { kind }, u) => {
      const ends = eitherWay(1.4, 3.2, at(u, 0), at(u, 1));
      const own = kind === 'electronic' ? 1 : ends ** (2 * at(u, 2) - 0.5);
      return {
        endsFactor: ends,
        gaugeFactor: car.gaugeFactor * own,
        operatingFactor: car.operatingFactor * own,
      };
    },
    proof: [
      ['middle-load', 'lowest-load'],
      ['gauge-ohm', 'loaded-volt'],
    ],
  },
  'gauge-sticky': {
    ...{
      part: 'gauge',
      weight: 4,
      isIn: isElectric,
      fault: (_, __, u) => ({ lag: between(0.03, 0.14, at(u, 0)) }),
    },
    proof: [['both-ways']],
  },
  'pointer-moved': {
    ...{ part: 'gauge', weight: 4, isIn: always },
    fault: (car, _, u) => ({
      shift: car.shift + (at(u, 1) < 0.5 ? -1 : 1) * between(0.07, 0.3, at(u, 0)),
    }),
    proof: [['rest-mark', 'lowest-load'], ['middle-load']],
  },
  'flat-zone': {
    ...{ part: 'flat-zone', weight: 4, isIn: ({ kind }) => kind === 'electronic' },
    fault: (_, __, u) => ({ flat: { from: 0.38 + 0.1 * at(u, 0), to: 0.62 + 0.15 * at(u, 1) } }),
    proof: [['flat-step']],
  },
};

const isName = (name: string): name is CauseName => Object.hasOwn(causes, name);

export const causeRow = (name: CauseName): CauseRow => causes[name];

/** The causes that a family can have, `sound` first. */
export const causesOf = (family: GaugeFamily): readonly CauseName[] =>
  Object.keys(causes)
    .filter(isName)
    .filter((name) => causeRow(name).isIn(family));

/** What must be measured before a cause may be named in this family. */
export function proofOf(name: CauseName, family: GaugeFamily): readonly (readonly TestName[])[] {
  const { proof } = causeRow(name);
  if (name === 'sound')
    return [
      ...proof,
      ...(hasOwnGround(family) ? [['lights'] as const] : []),
      ...(hasTrack(family) ? [['rocking'] as const] : []),
    ];
  if (name === 'gauge-open' && family.kind === 'electronic')
    return [['feed'], ['middle-load', 'lowest-load']];
  if (name === 'gauge-of-another-kind' && family.kind === 'electronic')
    return [['middle-load'], ['lowest-load']];
  return proof;
}
