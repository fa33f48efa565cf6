import type { GaugeReading } from '../../host/core/curve';
import { person } from '../../host/core/dial';
import { monotoneRoot } from '../../host/core/numeric/monotone-root';
import { randomSource } from '../../host/core/numeric/random';
import type { RandomSource } from '../../host/core/numeric/random';

export const mechanisms = ['thermal', 'two-coil', 'cross-coil', 'moving-coil', 'electronic'] as const;
export type Mechanism = (typeof mechanisms)[number];

/** A gauge that nobody has measured yet: its true curve, midway between the legs. */
export type RandomGauge = {
  readonly mechanism: Mechanism;
  readonly lowOhm: number;
  readonly highOhm: number;
  readonly lowestReading: number;
  readonly highestReading: number;
  readonly divisions: number;
  readonly plateau?: { readonly fromOhm: number; readonly toOhm: number; readonly reading: number };
  readonly reading: (ohm: number) => number;
  readonly ohm: (reading: number) => number;
};

export type Errors = {
  /** All as parts of the span: half the hysteresis, scatter of the person, a constant viewpoint (plus a tenth of a step). */
  readonly friction: number;
  readonly scatter: number;
  readonly viewpoint: number;
  readonly boxGain: number;
};

const between = (random: RandomSource, low: number, high: number): number =>
  low + (high - low) * random.uniform();
const betweenLog = (random: RandomSource, low: number, high: number): number =>
  low * (high / low) ** random.uniform();
const oneOf = <Item>(random: RandomSource, items: readonly Item[]): Item =>
  items[Math.min(items.length - 1, Math.floor(random.uniform() * items.length))]!;

/** Deflection against resistance, in any unit; physics as in the trade notes, section 1. */
function deflectionOf(
  mechanism: Mechanism,
  random: RandomSource,
): { low: number; high: number; law: (r: number) => number } {
  switch (mechanism) {
    case 'thermal': {
      const heaterOhm = betweenLog(random, 12, 70);
      const low = heaterOhm * between(random, 0.3, 1);
      return { low, high: low * between(random, 5, 12), law: (r) => 1 / (heaterOhm + r) ** 2 };
    }
    case 'two-coil': {
      const coilOhm = betweenLog(random, 50, 150);
      const turns = between(random, 0.7, 1.5);
      const low = oneOf(random, [0, 0, 5, 10]);
      return { low, high: coilOhm * between(random, 0.8, 3), law: (r) => Math.atan2(turns * r, r + coilOhm) };
    }
    case 'cross-coil': {
      const feedOhm = betweenLog(random, 50, 150);
      const coilOhm = betweenLog(random, 50, 150);
      const [high, bucking] = [between(random, 0.8, 1.6), between(random, 0.1, 0.8)];
      // Node law: currents in proportion r (through the coil) and r + coil (through the feed).
      const law = (r: number) => Math.atan2(high * r, r + coilOhm - bucking * r);
      return { low: feedOhm * between(random, 0.1, 0.4), high: feedOhm * between(random, 2, 6), law };
    }
    case 'moving-coil': {
      const coilOhm = betweenLog(random, 40, 300);
      return {
        low: coilOhm * between(random, 0.1, 0.5),
        high: coilOhm * between(random, 2, 6),
        law: (r) => 1 / (coilOhm + r),
      };
    }
    case 'electronic': {
      const pullUpOhm = betweenLog(random, 200, 1000);
      const low = pullUpOhm * between(random, 0.08, 0.2);
      return { low, high: low * between(random, 8, 20), law: (r) => r / (pullUpOhm + r) };
    }
  }
}

/** A gauge drawn from its mechanism's plausible range; an electronic one has a flat centre half of the time. */
export function randomGauge(mechanism: Mechanism, random: RandomSource): RandomGauge {
  const { low, high, law } = deflectionOf(mechanism, random);
  const [lowestReading, highestReading] = oneOf(random, [
    [40, 120],
    [0, 100],
    [0, 7],
    [100, 260],
    [0, 1],
  ] as const);
  const span = highestReading - lowestReading;
  const falls = random.uniform() < 0.5;
  const part = (ohm: number): number => {
    const along = (law(ohm) - law(low)) / (law(high) - law(low));
    return falls ? 1 - along : along;
  };
  const table = mechanism === 'electronic' ? flatTable(random) : (along: number) => along;
  const reading = (ohm: number): number => lowestReading + span * table(part(ohm));
  const ohm = (wanted: number): number =>
    monotoneRoot(reading, { from: low / 5, to: high * 5, target: wanted }) ?? NaN;
  const partOhm = (wanted: number): number =>
    monotoneRoot(part, { from: low / 5, to: high * 5, target: wanted }) ?? NaN;
  const flat = mechanism === 'electronic' ? flatZone(table) : undefined;
  return {
    mechanism,
    lowOhm: low,
    highOhm: high,
    lowestReading,
    highestReading,
    divisions: oneOf(random, [10, 16, 20, 24]),
    reading,
    ohm,
    ...(flat === undefined
      ? {}
      : {
          plateau: {
            fromOhm: Math.min(partOhm(flat.from), partOhm(flat.to)),
            toOhm: Math.max(partOhm(flat.from), partOhm(flat.to)),
            reading: lowestReading + span * 0.5,
          },
        }),
  };
}

type Table = ((along: number) => number) & { zone?: { from: number; to: number } };

/** Straight pieces with, half of the time, a middle in which the needle does not move. */
function flatTable(random: RandomSource): Table {
  const hasFlat = random.uniform() < 0.5;
  const from = hasFlat ? between(random, 0.25, 0.4) : 0.5;
  const to = hasFlat ? from + between(random, 0.2, 0.35) : 0.5;
  const table: Table = (along) =>
    along <= from ? (0.5 * along) / from : along >= to ? 0.5 + (0.5 * (along - to)) / (1 - to) : 0.5;
  if (hasFlat) table.zone = { from, to };
  return table;
}

const flatZone = (table: Table): { from: number; to: number } | undefined => table.zone;

/** Errors of an ordinary afternoon. */
export const randomErrors = (random: RandomSource): Errors => ({
  friction: between(random, 0.001, 0.012),
  scatter: between(random, 0.002, 0.008),
  viewpoint: person.parallaxPart * random.normal(),
  boxGain: 1 + 0.001 * random.normal(),
});

export type Sweep = {
  readonly settings: number;
  readonly legs: readonly ('up' | 'down')[];
  readonly repeats: number;
};

/**
 * A sweep as a person would make it: log-spaced settings, both legs, the middle setting repeated, every reading rounded
 * to half a division.
 */
export function sweepOf(
  gauge: RandomGauge,
  errors: Errors,
  sweep: Sweep,
  random: RandomSource,
): GaugeReading[] {
  const span = gauge.highestReading - gauge.lowestReading;
  const step = span / gauge.divisions / 2;
  const viewpoint = span * errors.viewpoint + step * between(random, -0.1, 0.1);
  const [first, last] = [Math.max(gauge.lowOhm, gauge.highOhm / 40), gauge.highOhm];
  const settings = Array.from({ length: sweep.settings }, (_, i) =>
    i === 0 && gauge.lowOhm === 0 ? 0 : first * (last / first) ** (i / (sweep.settings - 1)),
  ).map((ohm) => Number(ohm.toPrecision(3)));
  const middle = settings[settings.length >> 1]!;
  const list = sweep.legs.flatMap((leg) => settings.map((ohm) => ({ ohm, leg })));
  const more = Array.from({ length: sweep.repeats }, () => ({ ohm: middle, leg: sweep.legs[0]! }));
  return [...list, ...more].map(({ ohm, leg }) => {
    const made = ohm * errors.boxGain * (1 + 0.0003 * random.normal()) + 0.02 * random.normal();
    const lag = span * errors.friction * (0.7 + 0.3 * random.uniform());
    const shown = gauge.reading(Math.max(0, made)) + (leg === 'up' ? -lag : lag);
    const seen = shown + span * errors.scatter * random.normal() + viewpoint;
    return { resistanceOhm: ohm, reading: Math.round(seen / step) * step, leg };
  });
}

export { randomSource };
