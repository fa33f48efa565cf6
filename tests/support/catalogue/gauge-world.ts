import type { Candidate } from '../../../host/core/catalogue/bank';
import { ohmAxis, POSITIONS, type Columns } from '../../../host/core/catalogue/columns';
import type { RandomSource } from '../../../host/core/numeric/random';

/**
 * Gauges as circuits, not as the curves of the program: a supply, a coil or a heater, a sender. What differs from one
 * specimen to the next is a coil's ohms, a spring and where the needle was set, as a bench would make it.
 */
export type Maker = {
  readonly law: 'heater' | 'coil' | 'two-coil';
  readonly lowOhm: number;
  readonly highOhm: number;
  readonly coilOhm: number;
};

/** Ohms at the low and the high end of the scale. Common practice, no source. */
const FAMILIES = [
  [240, 33],
  [0.5, 90],
  [10, 180],
  [73, 10],
  [450, 20],
  [3, 110],
  [320, 36],
  [90, 1],
] as const;
const LAWS = ['heater', 'coil', 'two-coil'] as const;

const pick = <Each>(random: RandomSource, list: readonly Each[]): Each =>
  list[Math.min(list.length - 1, Math.floor(random.uniform() * list.length))]!;

export function anyMaker(random: RandomSource): Maker {
  const [low, high] = pick(random, FAMILIES);
  const jitter = (): number => Math.exp(0.12 * random.normal());
  return {
    law: pick(random, LAWS),
    lowOhm: low * jitter(),
    highOhm: high * jitter(),
    coilOhm: Math.exp(Math.log(20) + random.uniform() * Math.log(10)),
  };
}

/** What turns the needle, before spring and zero: current, heat, or the quotient of two fields. */
function drive({ law, coilOhm }: Maker, ohm: number): number {
  const current = 1 / (ohm + coilOhm);
  if (law === 'coil') return current;
  if (law === 'heater') return current ** 2;
  return Math.atan2(ohm, coilOhm);
}

export type Part = { readonly placeAt: (ohm: number) => number };

/** One specimen; `tau`: about how much specimens differ, as part of the arc. */
export function specimenOf(maker: Maker, random: RandomSource, tau: number): Part {
  const own = { ...maker, coilOhm: maker.coilOhm * (1 + 1.5 * tau * random.normal()) };
  const [low, high] = [drive(maker, maker.lowOhm), drive(maker, maker.highOhm)];
  const spring = 1 + tau * random.normal();
  const zero = 0.75 * tau * random.normal();
  return {
    placeAt: (ohm) => {
      const place = ((drive(own, ohm) - low) / (high - low)) * spring + zero;
      return Math.min(Math.max(place, -0.05), 1.05);
    },
  };
}

const STILL = { uniform: () => 0.5, normal: () => 0, gamma: () => 1, studentT: () => 0 };

/** Nowhere three times the usual spread apart where both are at work: one model by the numbers. */
export function isAlike(one: Maker, other: Maker): boolean {
  const [a, b] = [specimenOf(one, STILL, 0), specimenOf(other, STILL, 0)];
  const from = Math.max(Math.min(one.lowOhm, one.highOhm), Math.min(other.lowOhm, other.highOhm));
  const to = Math.min(Math.max(one.lowOhm, one.highOhm), Math.max(other.lowOhm, other.highOhm));
  if (to <= from) return false;
  return Array.from({ length: 21 }, (_, i) => from * (to / from) ** (i / 20)).every(
    (ohm) => Math.abs(a.placeAt(ohm) - b.placeAt(ohm)) < 0.06,
  );
}

/** A specimen as a careful sweep has measured it, with a fit that errs a little. */
export function measured(part: Part, maker: Maker, random: RandomSource): Columns {
  const [value, uncertainty] = [new Float32Array(POSITIONS), new Float32Array(POSITIONS)];
  const [from, to] = [Math.min(maker.lowOhm, maker.highOhm), Math.max(maker.lowOhm, maker.highOhm)];
  const off = 0.003 * random.normal();
  for (let i = 0; i < POSITIONS; i += 1) {
    value[i] = part.placeAt(ohmAxis.at(i)) + off;
    uncertainty[i] = 0.004;
  }
  const scale = { unit: '%', marks: [], lowest: 0, highest: 100 };
  return { kind: 'columns', from, to, value, uncertainty, scale, law: maker.law, lowOhm: from, highOhm: to };
}

export type World = { readonly makers: readonly Maker[]; readonly candidates: readonly Candidate[] };

/** A shop's catalogue: models with one to five specimens each. */
export function worldOf(count: number, random: RandomSource, tau: number): World {
  const makers = Array.from({ length: count }, () => anyMaker(random));
  const candidates = makers.map((maker, i) => ({
    id: String(i),
    specimens: Array.from({ length: 1 + Math.floor(5 * random.uniform()) }, () =>
      measured(specimenOf(maker, random, tau), maker, random),
    ),
  }));
  return { makers, candidates };
}

/** Ohms that a person has at hand, spread over where the needle moves. */
export function threeOhms(maker: Maker, random: RandomSource): number[] {
  const [from, to] = [
    Math.max(2, Math.min(maker.lowOhm, maker.highOhm)),
    Math.max(maker.lowOhm, maker.highOhm),
  ];
  return [0, 1, 2].map((i) => from * (to / from) ** ((i + random.uniform()) / 3));
}

/** A person reads a needle: one in a hundred of the arc, ohms by a hand-held meter. */
export const readBy = (part: Part, ohm: number, random: RandomSource) => ({
  resistanceOhm: ohm * (1 + 0.006 * random.normal()),
  value: 100 * (part.placeAt(ohm) + 0.008 * random.normal()),
});
