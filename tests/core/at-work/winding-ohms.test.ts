import { describe, expect, it } from 'vitest';
import { windingOhms } from '../../../host/core/at-work';
import { fitCurve, marksOf, type GaugeReading } from '../../../host/core/curve';
import { dialFromMarks } from '../../../host/core/dial';
import { BOX_OHMS } from '../../../host/core/ohmmeter';
import { randomSource } from '../../../host/core/numeric/random';
import { isDeep, someOf } from '../../support/deep';

const VOLT = 10;
const COLD_OHM = 200;
const [MOST_OHM, LEAST_OHM] = [184, 10];
/** A coil on a former beside a swamping resistor of no temperature coefficient. Orders of the trade, no source. */
const KELVIN_PER_WATT = 60;
const LAG_S = 90;
/** IEC 60028, annealed copper at 20 degC. */
const COPPER_PER_KELVIN = 0.00393;
/** An eye at a dial without fine divisions, and the friction of a pivot, parts of the arc. Common practice, no source. */
const EYE_PART = 0.01;
const FRICTION_PART = 0.004;
const SETTINGS = 7;
const MARKS = [10, 30, 50, 70, 90];
const marks = [0, 25, 50, 75, 100].map((reading) => ({
  label: `${reading}`,
  reading,
  angleFraction: reading / 100,
}));

type World = { readonly copperPart: number };

const coilOhm = ({ copperPart }: World, kelvin: number): number =>
  COLD_OHM * (1 + COPPER_PER_KELVIN * copperPart * kelvin);

/** Ampere when the coil has long been as warm as they make it; by halving. */
const settledAmp = (world: World, senderOhm: number): number => {
  let [below, above] = [0, VOLT / COLD_OHM];
  for (let count = 0; count < 60; count += 1) {
    const amp = (below + above) / 2;
    const kelvin = amp * amp * COLD_OHM * KELVIN_PER_WATT;
    if (amp * (coilOhm(world, kelvin) + senderOhm) < VOLT) below = amp;
    else above = amp;
  }
  return (below + above) / 2;
};

/** A moving coil goes with its current; whoever drew the dial let it become warm at both ends. */
const partAt = (world: World, amp: number): number => {
  const [low, high] = [settledAmp(world, MOST_OHM), settledAmp(world, LEAST_OHM)];
  return (amp - low) / (high - low);
};

const trueOhm = (world: World, reading: number): number => {
  let [below, above] = [0, 500];
  for (let count = 0; count < 60; count += 1) {
    const ohm = (below + above) / 2;
    if (100 * partAt(world, settledAmp(world, ohm)) > reading) below = ohm;
    else above = ohm;
  }
  return (below + above) / 2;
};

type Read = GaugeReading & { readonly currentMilliamp: number };

/** From cold, up and down; every setting is held for about so long before it is read, s. */
const sweepOf = (world: World, heldS: number, seed: number): Read[] => {
  const random = randomSource(seed);
  let [kelvin, needle] = [0, 0];
  return (['up', 'down'] as const).flatMap((leg) =>
    Array.from({ length: SETTINGS }, (_, step) => {
      const at = leg === 'up' ? step : SETTINGS - 1 - step;
      const resistanceOhm = MOST_OHM * (LEAST_OHM / MOST_OHM) ** (at / (SETTINGS - 1));
      let amp = 0;
      for (let second = 0; second < heldS * (0.8 + 0.6 * random.uniform()); second += 1) {
        amp = VOLT / (coilOhm(world, kelvin) + resistanceOhm);
        const rest = amp * amp * COLD_OHM * KELVIN_PER_WATT;
        kelvin = rest + (kelvin - rest) * Math.exp(-1 / LAG_S);
      }
      const wanted = partAt(world, amp);
      needle = Math.max(wanted - FRICTION_PART, Math.min(wanted + FRICTION_PART, needle));
      const seen = Math.max(-0.04, Math.min(1.05, needle)) + EYE_PART * random.normal();
      return { resistanceOhm, reading: 100 * seen, leg, currentMilliamp: 1_000 * amp };
    }),
  );
};

const WORLDS = isDeep ? 40 : 5;

/** Which part of the intervals holds the ohms at which the warm needle stands at its mark. */
const held = (world: World, heldS: number, isForgotten = false): number => {
  const dial = dialFromMarks(marks);
  if ('code' in dial) throw new Error(dial.code);
  let count = 0;
  for (let seed = 1; seed <= WORLDS; seed += 1) {
    const readings = sweepOf(world, heldS, seed);
    const winding = isForgotten ? undefined : windingOhms('moving-coil', readings);
    const absoluteOhm = Math.hypot(BOX_OHMS.absoluteOhm, winding?.absoluteOhm ?? 0);
    const curve = fitCurve(readings, {
      dial,
      mechanism: 'moving-coil',
      scale: { lowest: 0, highest: 100 },
      resistanceUncertainty: { ...BOX_OHMS, absoluteOhm },
    });
    if (curve.kind === 'refused') throw new Error(curve.code);
    for (const { reading, resistanceOhm, expandedUncertaintyOhm } of marksOf(curve, MARKS))
      if (Math.abs(resistanceOhm - trueOhm(world, reading)) <= expandedUncertaintyOhm) count += 1;
  }
  return count / (WORLDS * MARKS.length);
};

describe('a moving coil that is read before it is as warm as its current makes it', () => {
  it.each(someOf([15, 25, 60], 1))('tells its ohms no better than they are known, held for %s s', (heldS) => {
    expect(held({ copperPart: 0.5 }, heldS)).toBeGreaterThanOrEqual(0.93);
  });

  it('would not, were its warmth forgotten', () => {
    expect(held({ copperPart: 0.5 }, 20, true)).toBeLessThan(0.75);
  });

  it('leaves nothing unknown where its ohms stand still', () => {
    const absoluteOhm = windingOhms('moving-coil', sweepOf({ copperPart: 0 }, 20, 1))?.absoluteOhm ?? 0;
    expect(absoluteOhm).toBeLessThan(1e-6);
  });

  it('is not asked of heaters and of what goes by a ratio, nor of fewer than four currents', () => {
    const readings = sweepOf({ copperPart: 0.5 }, 20, 1);
    expect(windingOhms('moving-coil', readings)?.absoluteOhm).toBeGreaterThan(0.5);
    for (const mechanism of ['thermal', 'two-coil', 'cross-coil', 'electronic', 'unknown'] as const)
      expect(windingOhms(mechanism, readings)).toBeUndefined();
    expect(windingOhms('moving-coil', readings.slice(0, 3))).toBeUndefined();
  });

  it('is not led astray by one current that was another setting’s', () => {
    const readings = sweepOf({ copperPart: 0.5 }, 20, 1);
    const [first, ...rest] = readings;
    const right = windingOhms('moving-coil', readings)?.absoluteOhm ?? 0;
    const odd = windingOhms('moving-coil', [{ ...first!, currentMilliamp: 47 }, ...rest])?.absoluteOhm ?? 0;
    expect(odd).toBeLessThan(2 * right);
  });
});
