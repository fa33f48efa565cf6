import type { GaugeReading } from '../../host/core/curve';
import type { RandomSource } from '../../host/core/numeric/random';

/**
 * Gauges whose needle a program or a worn movement turns, so that no law of coils or bimetals holds: a divider's volts
 * through a table of straight pieces (trade notes 1.5), with or without a stretch in which the needle stands, or steps
 * of a display. The world of these checks: drawn, not fitted.
 */
export type ProgramGauge = {
  readonly kind: ProgramKind;
  readonly lowOhm: number;
  readonly highOhm: number;
  /** 0 to 100 over the range, rising or falling. */
  readonly reading: (ohm: number) => number;
  readonly rest?: { readonly fromOhm: number; readonly toOhm: number };
};

export const programKinds = ['flat centre', 'table', 'rest anywhere', 'two rests'] as const;
export type ProgramKind = (typeof programKinds)[number];

type Node = readonly [part: number, reading: number];

const between = (random: RandomSource, low: number, high: number): number =>
  low + (high - low) * random.uniform();

const nodesOf = (kind: ProgramKind, random: RandomSource): Node[] => {
  switch (kind) {
    case 'flat centre': {
      const from = between(random, 0.25, 0.45);
      return [
        [0, 0],
        [from, 50],
        [from + between(random, 0.15, 0.3), 50],
        [1, 100],
      ];
    }
    case 'table': {
      const inner = [1, 2, 3, 4].map((k) => [k / 5, between(random, 0.6, 1.4)] as const);
      const speeds = [...inner.map(([, speed]) => speed), between(random, 0.6, 1.4)];
      const total = speeds.reduce((sum, speed) => sum + speed, 0);
      let height = 0;
      return [[0, 0], ...speeds.map((speed, k) => [(k + 1) / 5, (height += (100 * speed) / total)] as const)];
    }
    case 'rest anywhere': {
      const from = between(random, 0.1, 0.7);
      const length = between(random, 0.1, 0.25);
      const height = between(random, 0.8, 1.2) * 100 * (from / (1 - length));
      const held = Math.min(95, Math.max(5, height));
      return [
        [0, 0],
        [from, held],
        [from + length, held],
        [1, 100],
      ];
    }
    case 'two rests': {
      const [one, two] = [between(random, 0.12, 0.25), between(random, 0.55, 0.7)];
      return [
        [0, 0],
        [one, 30],
        [one + 0.15, 30],
        [two, 70],
        [two + 0.15, 70],
        [1, 100],
      ];
    }
  }
};

const along = (nodes: readonly Node[], part: number): number => {
  const right = Math.max(
    1,
    nodes.findIndex(([at]) => at >= part),
  );
  const [from, to] = [nodes[right - 1]!, nodes[right]!];
  return from[1] + ((to[1] - from[1]) * (part - from[0])) / (to[0] - from[0]);
};

/** A gauge drawn from its kind: pull-up 200 to 1,000 ohm, range 1 to 8 up to 1 to 20. */
export function programGauge(kind: ProgramKind, random: RandomSource): ProgramGauge {
  const pullUpOhm = 200 * 5 ** random.uniform();
  const lowOhm = pullUpOhm * between(random, 0.08, 0.2);
  const highOhm = lowOhm * between(random, 8, 20);
  const falls = random.uniform() < 0.5;
  const nodes = nodesOf(kind, random);
  const volts = (ohm: number): number => ohm / (pullUpOhm + ohm);
  const [low, high] = [volts(lowOhm), volts(highOhm)];
  const partOf = (ohm: number): number => Math.min(1, Math.max(0, (volts(ohm) - low) / (high - low)));
  const ohmOf = (part: number): number => {
    const v = low + part * (high - low);
    return (pullUpOhm * v) / (1 - v);
  };
  const still = nodes.findIndex(([, y], i) => nodes[i + 1]?.[1] === y);
  return {
    kind,
    lowOhm,
    highOhm,
    reading: (ohm) => (falls ? 100 - along(nodes, partOf(ohm)) : along(nodes, partOf(ohm))),
    ...(still < 0 ? {} : { rest: { fromOhm: ohmOf(nodes[still]![0]), toOhm: ohmOf(nodes[still + 1]![0]) } }),
  };
}

/** Both legs and a repeat, read by an eye to half of a twentieth of the scale. Common practice, no source. */
export function programSweep(
  gauge: ProgramGauge,
  how: { readonly settings: number; readonly spacing: 'ln' | 'ohm' },
  random: RandomSource,
): GaugeReading[] {
  const { lowOhm, highOhm } = gauge;
  const lag = between(random, 0.05, 0.6);
  const scatter = between(random, 0.2, 0.8);
  const ohms = Array.from({ length: how.settings }, (_, k) => {
    const part = k / (how.settings - 1);
    const ohm =
      how.spacing === 'ln' ? lowOhm * (highOhm / lowOhm) ** part : lowOhm + (highOhm - lowOhm) * part;
    return Number(ohm.toPrecision(3));
  });
  const look = (ohm: number, leg: 'up' | 'down'): GaugeReading => {
    const shown = gauge.reading(ohm) + (leg === 'up' ? -lag : lag) + scatter * random.normal();
    return { resistanceOhm: ohm, reading: 2.5 * Math.round(shown / 2.5), leg };
  };
  return [...ohms.map((ohm) => look(ohm, 'up')), ...[...ohms].reverse().map((ohm) => look(ohm, 'down'))];
}
