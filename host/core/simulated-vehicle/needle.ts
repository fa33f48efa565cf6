import type { GaugeFamily } from '../diagnosis/family';
import { NODE, solved, type Solved } from './circuit';
import type { Vehicle } from './vehicle';

/** Turns of the high and the bucking coil of a crossed gauge over the low coil's. Common practice, no source. */
const CROSSED = { high: 1.1, bucking: 0.35 } as const;

/** Watt in a heater, milliampere-turns in a coil, radians between crossed fields, part of a reference. */
function effect({ family, firstOhm, firstTurns, secondTurns, crossing }: Vehicle, state: Solved): number {
  const { firstAmp, secondAmp, volts } = state;
  switch (family.kind) {
    case 'thermal':
      return firstAmp ** 2 * firstOhm;
    case 'moving-coil':
      return firstAmp * firstTurns;
    case 'two-coil':
      return Math.atan2(crossing * secondTurns * secondAmp, firstTurns * firstAmp);
    case 'cross-coil':
      return Math.atan2(
        CROSSED.high * crossing * secondTurns * secondAmp,
        firstTurns * firstAmp - CROSSED.bucking * secondTurns * secondAmp,
      );
    case 'electronic':
      return Math.abs((volts[NODE.terminal] ?? 0) - (volts[NODE.case] ?? 0)) / family.feedVolt;
  }
}

/** As its maker drew it: no ohm too much anywhere, the battery of the drawing board. */
export const ideal = (family: GaugeFamily): Vehicle => ({
  family,
  battery: { emf: 12.6, ohm: 1e-4 },
  isPositiveGround: false,
  ...{ feedOhm: 1e-4, othersOhm: 1e6, firstOhm: family.gaugeOhm, secondOhm: family.operatingOhm },
  stabiliser: { contact: 'works', heatVolt: family.feedVolt, groundOhm: 1e-3 },
  ...{ firstTurns: 1, secondTurns: 1, crossing: 1, madeForEnds: 1, isDead: false },
  ...{ lag: 0, offset: 0, gain: 1, flat: undefined, caseOhm: 1e-4, bodyStrapOhm: 1e-4, engineStrapOhm: 1e-4 },
  ...{
    lampAmp: 0,
    quietAmp: 0,
    engineAmp: { quiet: 0, loaded: 0 },
    wireOhm: 1e-4,
    chafeOhm: 1e8,
    hexOhm: 1e-4,
  },
  ...{ senderRatio: 1, senderSlope: 1, isReversed: false, stuckOhm: undefined, hasDropouts: false },
  ...{
    otherGauge: false,
    otherSenderRatio: undefined,
    othersWrong: 0,
    looseJoint: 0,
    coolPlace: 0.2,
    warmPlace: 0.7,
  },
});

const drawn = new Map<string, readonly [number, number]>();

/** What the drawn gauge makes of the ohms at both ends of a scale. */
function endsOf(family: GaugeFamily, factor: number): readonly [number, number] {
  const key = JSON.stringify([family, factor]);
  const known = drawn.get(key);
  if (known !== undefined) return known;
  const drawing = ideal(family);
  const at = (ohm: number): number => effect(drawing, solved(drawing, { kind: 'resistor', ohm }));
  const ends = [at(factor * family.lowEndOhm), at(factor * family.highEndOhm)] as const;
  if (factor === 1) drawn.set(key, ends);
  return ends;
}

/** Where the mechanism points, part of the scale, friction and stops left out. */
function pointsAt(vehicle: Vehicle, state: Solved): number {
  const [low, high] = endsOf(vehicle.family, vehicle.madeForEnds);
  return (effect(vehicle, state) - low) / (high - low);
}

const LOW_STOP = -0.05;
const HIGH_STOP = 1.05;
const LEAST_MODULE_VOLT = 7;

/** Where the needle is seen: what friction, a bent pointer and a program make of it. `side`: from where it came, -1 to 1. */
export function seenAt(vehicle: Vehicle, state: Solved, side: number): number {
  const { family, flat, gain, offset, lag, isDead } = vehicle;
  const isAsleep = family.kind === 'electronic' && Math.abs(state.volts[NODE.feed] ?? 0) < LEAST_MODULE_VOLT;
  if (isDead || isAsleep) return LOW_STOP;
  const pointed = pointsAt(vehicle, state);
  const shown = flat !== undefined && pointed > flat[0] && pointed < flat[1] ? flat[0] : pointed;
  return Math.min(HIGH_STOP, Math.max(LOW_STOP, gain * shown + offset + side * lag));
}

const HALVINGS = 36;
const found = new Map<string, number>();

/** Ohms of a good sender where the needle should stand at a place, by the drawn circuit. */
export function goodOhmAt(family: GaugeFamily, place: number): number {
  const key = JSON.stringify([family, place]);
  const known = found.get(key);
  if (known !== undefined) return known;
  const drawing = ideal(family);
  const rises = family.highEndOhm > family.lowEndOhm;
  let low = 0.05;
  let high = 1e5;
  for (let index = 0; index < HALVINGS; index += 1) {
    const ohm = Math.sqrt(low * high);
    const isBelow = pointsAt(drawing, solved(drawing, { kind: 'resistor', ohm })) < place;
    if (isBelow === rises) low = ohm;
    else high = ohm;
  }
  const ohm = Math.sqrt(low * high);
  if (found.size > 200) found.clear();
  found.set(key, ohm);
  return ohm;
}
