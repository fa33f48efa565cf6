import { fitCurve } from '../../host/core/curve';
import type { GaugeReading } from '../../host/core/curve';
import { choleskyFactor, choleskySolve } from '../../host/core/numeric/cholesky';
import { monotoneRoot } from '../../host/core/numeric/monotone-root';
import { randomSource } from '../../host/core/numeric/random';
import type { RandomSource } from '../../host/core/numeric/random';
import { settingForMarks } from '../../host/core/plan';

/** A needle's law with its own parameters, in full: what a design for the true law must know. Trade notes 1.1 to 1.5. */
type TrueLaw = {
  readonly parameters: readonly number[];
  readonly reading: (ohm: number, parameters: readonly number[]) => number;
  readonly lowOhm: number;
  readonly highOhm: number;
  readonly mechanism: 'thermal' | 'two-coil' | 'cross-coil' | 'moving-coil';
};

const between = (random: RandomSource, low: number, high: number): number =>
  low * (high / low) ** random.uniform();

/** Bends of the laws: the two last parameters are set so that the scale runs from 0 to 100. */
const bends = {
  thermal: (r: number, [rg = 0]: readonly number[]) => 1 / (rg + r) ** 2,
  'moving-coil': (r: number, [rg = 0]: readonly number[]) => 1 / (rg + r),
  'two-coil': (r: number, [rf = 0]: readonly number[]) => Math.atan2(r, r + rf),
  'cross-coil': (r: number, [rs = 0, angle = 0]: readonly number[]) =>
    Math.atan2(r * Math.sin(angle), r * Math.cos(angle) + rs),
} as const;
const kinds = ['thermal', 'moving-coil', 'two-coil', 'cross-coil'] as const;

function drawn(index: number, random: RandomSource): TrueLaw {
  const mechanism = kinds[index % kinds.length]!;
  const bend = bends[mechanism];
  const scaleOhm = between(random, 20, 150);
  const shape = mechanism === 'cross-coil' ? [scaleOhm, 1 + 1.2 * random.uniform()] : [scaleOhm];
  const lowOhm = scaleOhm * between(random, 0.15, 0.6);
  const highOhm = lowOhm * between(random, 5, 16);
  const [low, high] = [bend(lowOhm, shape), bend(highOhm, shape)];
  const slope = 100 / (high - low);
  return {
    mechanism,
    lowOhm,
    highOhm,
    parameters: [...shape, -slope * low, slope],
    reading: (ohm, p) => p[p.length - 2]! + p[p.length - 1]! * bend(ohm, p),
  };
}

const PLACES = 60;
const MARKS = [0, 25, 50, 75, 100];

function gradient({ reading, parameters }: TrueLaw, ohm: number): number[] {
  return parameters.map((value, k) => {
    const step = 1e-5 * Math.abs(value);
    const at = (by: number): number =>
      reading(
        ohm,
        parameters.map((each, i) => (i === k ? each + by : each)),
      );
    // In units of the parameter itself, so that the matrix is well scaled.
    return ((at(step) - at(-step)) / (2 * step)) * Math.abs(value);
  });
}

type Variance = { readonly mean: number; readonly worst: number };

/** Variance at the marks of readings of unit variance at these ohms, by the true law. Source: (X'X)^-1, GUM H.3. */
function varianceOf(
  gradients: readonly (readonly number[])[],
  marks: readonly (readonly number[])[],
): Variance {
  const size = marks[0]!.length;
  const information = Array.from({ length: size }, (_, i) =>
    Array.from({ length: size }, (__, j) => gradients.reduce((sum, g) => sum + g[i]! * g[j]!, 0)),
  );
  const factor = choleskyFactor(information);
  if (factor === undefined) return { mean: Infinity, worst: Infinity };
  const each = marks.map((mark) =>
    choleskySolve(factor, mark).reduce((sum, value, i) => sum + value * mark[i]!, 0),
  );
  return { mean: each.reduce((sum, value) => sum + value, 0) / each.length, worst: Math.max(...each) };
}

const spaced = ({ lowOhm, highOhm }: TrueLaw, count: number): number[] =>
  Array.from({ length: count }, (_, k) => lowOhm * (highOhm / lowOhm) ** (k / (count - 1)));

/** As an eye reads: 0.6 of scatter, rounded to 2.5 of 100, both legs with a lag of 0.5. Common practice, no source. */
const read = (law: TrueLaw, ohm: number, random: RandomSource): GaugeReading[] =>
  (['up', 'down'] as const).map((leg) => ({
    resistanceOhm: ohm,
    leg,
    reading:
      2.5 *
      Math.round(
        (law.reading(ohm, law.parameters) + (leg === 'up' ? -0.5 : 0.5) + 0.6 * random.normal()) / 2.5,
      ),
  }));

/** Settings as the program plans them: so many even in ln R, the rest where it asks. */
function planned(
  law: TrueLaw,
  counts: { first: number; all: number },
  isMechanismSaid: boolean,
  random: RandomSource,
) {
  const settings = spaced(law, counts.first);
  const readings = settings.flatMap((ohm) => read(law, ohm, random));
  while (settings.length < counts.all) {
    const curve = fitCurve(readings, {
      marks: MARKS,
      scale: { lowest: 0, highest: 100 },
      mechanism: isMechanismSaid ? law.mechanism : 'unknown',
    });
    if (curve.kind === 'refused') return settings;
    const marks = MARKS.map((reading) => ({ reading, weight: 1 }));
    const next = settingForMarks(curve, { marks, readingsEach: 2, minutes: 0 });
    if (next.kind === 'enough') return settings;
    settings.push(next.resistanceOhm);
    readings.push(...read(law, next.resistanceOhm, random));
  }
  return settings;
}

/** The best so many settings for the true law, by exchange from the even grid. Source: Fedorov's exchange (1972), from memory. */
function optimum(law: TrueLaw, count: number, marks: readonly (readonly number[])[]): Variance {
  const pool = spaced(law, PLACES).map((ohm) => gradient(law, ohm));
  const chosen = spaced(law, count).map((ohm) => gradient(law, ohm));
  let best = varianceOf(chosen, marks);
  for (let round = 0; round < 6; round += 1) {
    const before = best.mean;
    for (let i = 0; i < count; i += 1)
      for (const other of pool) {
        const kept = chosen[i]!;
        chosen[i] = other;
        const found = varianceOf(chosen, marks);
        if (found.mean < best.mean) best = found;
        else chosen[i] = kept;
      }
    if (best.mean > 0.9999 * before) return best;
  }
  return best;
}

/** How many settings of an even grid do as well, by a straight line in the logarithms. */
function evenSettingsFor(
  law: TrueLaw,
  wanted: number,
  how: (one: Variance) => number,
  marks: readonly number[][],
): number {
  const at = (count: number): number =>
    Math.log(
      how(
        varianceOf(
          spaced(law, count).map((ohm) => gradient(law, ohm)),
          marks,
        ),
      ),
    );
  const target = Math.log(wanted);
  let count = Math.max(4, law.parameters.length);
  while (at(count) > target && count < 60) count += 1;
  const [low, high] = [at(count - 1), at(count)];
  return Number.isFinite(low) ? count - 1 + (low - target) / (low - high) : count;
}

const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[values.length >> 1]!;

/** Medians over random gauges: readings an even grid needs by those of the plan, and the plan's by the optimum's. */
export function planAgainstGrid(
  gauges: number,
  counts: { first: number; all: number },
  { isMechanismSaid }: { isMechanismSaid: boolean },
) {
  const rows = Array.from({ length: gauges }, (_, index) => {
    const random = randomSource(64_000 + index);
    const law = drawn(index, random);
    const marks = MARKS.map((mark) => {
      const ohm = monotoneRoot((r) => law.reading(r, law.parameters), {
        from: law.lowOhm / 1.001,
        to: law.highOhm * 1.001,
        target: mark,
      });
      return gradient(law, ohm ?? law.lowOhm);
    });
    const settings = planned(law, counts, isMechanismSaid, random);
    const own = varianceOf(
      settings.map((ohm) => gradient(law, ohm)),
      marks,
    );
    const best = optimum(law, settings.length, marks);
    return {
      byMean: evenSettingsFor(law, own.mean, ({ mean }) => mean, marks) / settings.length,
      byWorst: evenSettingsFor(law, own.worst, ({ worst }) => worst, marks) / settings.length,
      bestByMean: evenSettingsFor(law, best.mean, ({ mean }) => mean, marks) / settings.length,
      overOptimum: own.mean / best.mean,
    };
  });
  return {
    byMean: median(rows.map((row) => row.byMean)),
    byWorst: median(rows.map((row) => row.byWorst)),
    bestByMean: median(rows.map((row) => row.bestByMean)),
    overOptimum: median(rows.map((row) => row.overOptimum)),
  };
}
