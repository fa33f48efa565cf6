import { randomSource } from '../numeric/random';
import type { Car } from './car';

/** Chances of one particle: the same for every cause, so that what is no fault tells no cause from another. */
export type Draws = {
  readonly normals: readonly number[];
  /** What a fault is made of, uniform in (0, 1). */
  readonly faults: readonly number[];
};

const NORMALS = 25;
const FAULTS = 8;

/** `count` draws of a seed. */
export function drawsOf(seed: number, count: number): readonly Draws[] {
  const random = randomSource(seed);
  return Array.from({ length: count }, () => ({
    normals: Array.from({ length: NORMALS }, () => random.normal()),
    faults: Array.from({ length: FAULTS }, () => random.uniform()),
  }));
}

/** Standard deviations of what is no fault. Assumptions, common practice, no source. */
const SPREAD = {
  ...{ gauge: 0.025, thermistor: 0.065, shift: 0.02, stretch: 0.022, stabiliser: 0.027, second: 0.15 },
} as const;

/** e to the (ln centre + spread n): positive, spread by ratio. */
const spread = (centre: number, byRatio: number, n = 0): number => centre * Math.exp(byRatio * n);

/** A sound vehicle; `referenceError`: standard deviation of where the needle should stand, cool and warm, part of the scale. */
export function soundCar(
  { normals: n }: Draws,
  referenceError: { readonly cool: number; readonly warm: number },
): Car {
  const z = (index: number): number => n[index] ?? 0;
  return {
    batteryVolt: 12.5 + 0.35 * z(0),
    feedOhm: spread(0.1, 0.7, z(1)),
    othersOhm: spread(11, 0.5, z(2)),
    stabiliser: 'works',
    stabiliserFactor: 1 + SPREAD.stabiliser * z(3),
    stabiliserGroundOhm: spread(0.03, 0.8, z(4)),
    gaugeFactor: 1 + SPREAD.gauge * z(5),
    operatingFactor: 1 + SPREAD.gauge * z(6),
    gaugeTurns: 1,
    operatingTurns: 1,
    endsFactor: 1,
    isDead: false,
    isMute: false,
    lag: spread(0.007, 0.5, z(7)),
    shift: SPREAD.shift * z(8),
    stretch: 1 + SPREAD.stretch * z(9),
    flat: undefined,
    wireOhm: spread(0.15, 0.6, z(10)),
    leakOhm: spread(2e6, 0.9, z(24)),
    sender: {
      factor: spread(1, SPREAD.thermistor, z(11)),
      slope: 1 + 0.03 * z(12),
      ...{ isReversed: false, fixedOhm: undefined, isWorn: false },
    },
    hexOhm: spread(0.012, 0.8, z(13)),
    strapOhm: spread(0.003, 0.8, z(14)),
    strapAmpOff: spread(1, 0.4, z(15)),
    strapAmpOn: spread(5, 0.5, z(16)),
    caseOhm: spread(0.03, 0.7, z(17)),
    sharedGroundOhm: spread(0.004, 0.5, z(18)),
    lampAmp: spread(10, 0.25, z(19)),
    quietAmp: spread(1, 0.4, z(20)),
    hasSecondGauge: false,
    hasSecondSender: false,
    secondFactor: spread(1, SPREAD.second, z(21)),
    coolError: referenceError.cool * z(22),
    warmError: referenceError.warm * z(23),
    approach: Math.tanh(z(0) + z(12)),
  };
}
