import { hasTrack, hasOwnGround, type GaugeFamily } from '../diagnosis/family';
import type { CauseName } from '../diagnosis/names';
import type { RandomSource } from '../numeric/random';
import { ideal } from './needle';
import type { Vehicle } from './vehicle';

/** A draw that no vehicle misses: evenly between, or skewed to the small ones by its square. */
const even = (random: RandomSource, from: number, to: number): number =>
  from + (to - from) * random.uniform();
const skewed = (random: RandomSource, from: number, to: number): number =>
  from + (to - from) * random.uniform() ** 2;
const about = (random: RandomSource, centre: number, part: number): number =>
  centre * (1 + part * random.normal());
const coin = (random: RandomSource): boolean => random.uniform() < 0.5;

/** A vehicle in which nothing is wrong but what every old one has. Spreads are assumptions, common practice, no source. */
function soundVehicle(family: GaugeFamily, random: RandomSource): Vehicle {
  return {
    ...ideal(family),
    battery: { emf: even(random, 12, 13.1), ohm: even(random, 0.008, 0.03) },
    feedOhm: skewed(random, 0.03, 0.5),
    othersOhm: even(random, 6, 30),
    stabiliser: {
      contact: 'works',
      heatVolt: about(random, family.feedVolt, 0.022),
      groundOhm: skewed(random, 0.005, 0.2),
    },
    firstOhm: about(random, family.gaugeOhm, 0.022),
    secondOhm: about(random, family.operatingOhm, 0.022),
    crossing: about(random, 1, 0.012),
    lag: skewed(random, 0.002, 0.02),
    offset: even(random, -0.03, 0.03),
    gain: even(random, 0.97, 1.03),
    caseOhm: skewed(random, 0.005, 0.12),
    bodyStrapOhm: even(random, 0.002, 0.006),
    engineStrapOhm: skewed(random, 0.001, 0.008),
    lampAmp: even(random, 7, 13),
    quietAmp: even(random, 0.4, 2),
    engineAmp: { quiet: even(random, 0.5, 1.8), loaded: even(random, 3, 8) },
    wireOhm: skewed(random, 0.05, 0.5),
    chafeOhm: even(random, 2e5, 1e7),
    hexOhm: skewed(random, 0.002, 0.06),
    senderRatio: about(random, 1, 0.055),
    senderSlope: about(random, 1, 0.02),
    othersWrong: 0.04,
    looseJoint: 0.02,
  };
}

/** Needle's ohms against which a series resistance counts. */
const scaleOhm = ({ lowEndOhm, highEndOhm, gaugeOhm, operatingOhm, kind }: GaugeFamily): number => {
  const behind =
    kind === 'electronic' ? 0 : operatingOhm > 0 ? 1 / (1 / gaugeOhm + 1 / operatingOhm) : gaugeOhm;
  return kind === 'two-coil' ? Math.abs(highEndOhm - lowEndOhm) : Math.min(lowEndOhm, highEndOhm) + behind;
};
const awayFromOne = (random: RandomSource, least: number, most: number): number => {
  const ratio = skewed(random, least, most);
  return coin(random) ? ratio : 1 / ratio;
};

type Plant = (vehicle: Vehicle, random: RandomSource) => Partial<Vehicle>;

/** What each fault does to a vehicle. Sizes are assumptions, common practice, no source. */
const plants: Readonly<Record<CauseName, Plant>> = {
  sound: () => ({}),
  'sender-open': () => ({ stuckOhm: 4e6 }),
  'sender-shorted': (_, random) => ({ stuckOhm: even(random, 0.05, 0.9) }),
  'sender-worn': ({ senderRatio }, random) => ({
    ...{ hasDropouts: true, senderRatio: senderRatio * even(random, 0.9, 1.25) },
  }),
  'sender-drifted': ({ senderRatio }, random) => ({
    senderRatio: senderRatio * awayFromOne(random, 1.25, 2.2),
  }),
  'sender-of-another-family': ({ senderRatio, senderSlope }, random) =>
    random.uniform() < 0.4
      ? { isReversed: true, senderRatio: senderRatio * even(random, 0.8, 1.25) }
      : {
          senderRatio: senderRatio * awayFromOne(random, 1.3, 3.5),
          senderSlope: senderSlope * even(random, 0.75, 1.3),
        },
  'sender-seal': ({ family }, random) => ({ hexOhm: skewed(random, 0.1, 2.5) * scaleOhm(family) }),
  'engine-strap': ({ family }, random) => ({
    engineStrapOhm: 0.1 + skewed(random, 0, 0.05) * scaleOhm(family),
  }),
  'case-wire': ({ family }, random) => ({ caseOhm: skewed(random, 0.15, 12) * family.operatingOhm }),
  'shared-ground': ({ family }, random) => ({
    bodyStrapOhm: family.kind === 'electronic' ? even(random, 0.03, 0.1) : even(random, 0.04, 0.2),
  }),
  'wire-open': () => ({ wireOhm: 5e6 }),
  'wire-corroded': ({ family }, random) => ({ wireOhm: skewed(random, 0.1, 2.5) * scaleOhm(family) }),
  'wire-chafed': ({ family }, random) => ({
    chafeOhm: skewed(random, 0.02, 6) * Math.max(family.lowEndOhm, family.highEndOhm),
  }),
  'stabiliser-open': ({ stabiliser }) => ({ stabiliser: { ...stabiliser, contact: 'never' } }),
  'stabiliser-closed': ({ stabiliser }) => ({ stabiliser: { ...stabiliser, contact: 'always' } }),
  'stabiliser-drifted': ({ stabiliser, family }, random) => ({
    stabiliser: { ...stabiliser, heatVolt: family.feedVolt * awayFromOne(random, 1.1, 1.28) },
  }),
  'stabiliser-ground': ({ stabiliser }, random) => ({
    stabiliser: { ...stabiliser, groundOhm: 30 * (1 / random.uniform()) },
  }),
  'feed-resistance': ({ family }, random) => ({
    feedOhm:
      family.kind === 'electronic'
        ? even(random, 1, 4.5)
        : skewed(random, 1.2, Math.max(7, 0.5 * family.gaugeOhm)),
  }),
  'weak-battery': ({ battery }, random) => ({ battery: { ...battery, emf: even(random, 8.6, 11.2) } }),
  'second-gauge': () => ({ otherGauge: true }),
  'second-sender': (_, random) => ({ otherSenderRatio: about(random, 1, 0.1) }),
  'gauge-open': ({ family, secondOhm, firstOhm }, random) => {
    if (family.kind === 'electronic') return { isDead: true };
    return secondOhm > 0 && coin(random) ? { secondOhm: 3e6 } : { firstOhm: firstOhm * 1e5 };
  },
  'gauge-turns': ({ secondOhm, firstOhm }, random) => {
    const left = even(random, 0.45, 0.85);
    return secondOhm > 0 && coin(random)
      ? { secondOhm: secondOhm * left, secondTurns: left }
      : { firstOhm: firstOhm * left, firstTurns: left };
  },
  'gauge-of-another-kind': ({ firstOhm, secondOhm, family }, random) => {
    const ends = awayFromOne(random, 1.5, 3);
    const own = family.kind === 'electronic' ? 1 : ends ** even(random, 0, 1.2);
    return { madeForEnds: ends, firstOhm: firstOhm * own, secondOhm: secondOhm * own };
  },
  'gauge-sticky': (_, random) => ({ lag: even(random, 0.035, 0.12) }),
  'pointer-moved': ({ offset }, random) => ({
    offset: offset + (coin(random) ? 1 : -1) * even(random, 0.08, 0.25),
  }),
  'flat-zone': (_, random) => ({ flat: [even(random, 0.4, 0.46), even(random, 0.64, 0.74)] }),
};

const OTHERS_WRONG: Partial<Record<CauseName, number>> = {
  ...{ 'stabiliser-open': 0.95, 'stabiliser-closed': 0.92, 'stabiliser-drifted': 0.8 },
  ...{ 'stabiliser-ground': 0.92, 'feed-resistance': 0.5, 'weak-battery': 0.6, 'shared-ground': 0.7 },
  'engine-strap': 0.3,
};

/** What corrodes or chafes makes and breaks when it is moved. Assumptions, common practice, no source. */
const LOOSE_JOINT: Partial<Record<CauseName, number>> = {
  ...{ 'wire-corroded': 0.55, 'wire-open': 0.2, 'wire-chafed': 0.3, 'case-wire': 0.5 },
  ...{ 'feed-resistance': 0.35, 'sender-seal': 0.15, 'engine-strap': 0.2, 'shared-ground': 0.25 },
};

/** The causes whose fault this world can plant in a vehicle of the family, and `sound`. */
export const plantable = (family: GaugeFamily): readonly CauseName[] =>
  Object.keys(plants).filter((name): name is CauseName => isPlantable(name, family));

const NOT_ELECTRONIC: readonly string[] = ['case-wire', 'gauge-turns', 'gauge-sticky'];

function isPlantable(name: string, family: GaugeFamily): boolean {
  if (name.startsWith('stabiliser')) return family.isStabilised;
  if (name === 'sender-worn') return hasTrack(family);
  if (name === 'flat-zone') return family.kind === 'electronic';
  if (family.kind === 'electronic' && NOT_ELECTRONIC.includes(name)) return false;
  return hasOwnGround(family) || (name !== 'case-wire' && name !== 'shared-ground');
}

/** A vehicle with these faults; none for a sound one. */
export function drawVehicle(
  family: GaugeFamily,
  faults: readonly CauseName[],
  random: RandomSource,
): Vehicle {
  let vehicle = soundVehicle(family, random);
  for (const name of faults) {
    const othersWrong = Math.max(vehicle.othersWrong, OTHERS_WRONG[name] ?? 0);
    const looseJoint = Math.max(vehicle.looseJoint, LOOSE_JOINT[name] ?? 0);
    vehicle = { ...vehicle, ...plants[name](vehicle, random), othersWrong, looseJoint };
  }
  return vehicle;
}
