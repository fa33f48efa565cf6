import { monotoneCubic } from '../numeric/monotone-cubic';
import { mean, rootSumOfSquares } from '../numeric/sum';
import { type Refusal, refuse } from '../refusal';
import type { LawFit } from './law-fit';
import type { LawPoint } from './points';
import { scaledArgument, scaledOhm, type TableKnot, type TableLaw } from './table';

/**
 * A monotone table through the points, repeats averaged. `scale` is `thermal` for temperature senders of either sense.
 * Source: Fritsch and Carlson (1980) in (1/T, ln R), as recommended against polynomials in R (trade practice).
 * Refuses: resistance that turns back between two values (SENDER_NOT_MONOTONE), with the values named.
 */
export function fitTable(points: readonly LawPoint[], scale: TableLaw['scale']): LawFit | Refusal {
  const pooled = poolRepeats(points, scale);
  const turn = firstTurn(pooled);
  if (turn !== undefined) {
    const around = pooled.slice(turn - 1, turn + 2);
    return refuse('SENDER_NOT_MONOTONE', {
      points: around.map(({ value, ohm }) => ({ value, resistanceOhm: ohm })),
    });
  }
  const slopes = knotSlopes(pooled, scale);
  const knots = pooled.map((point, i): TableKnot => ({
    argument: point.argument,
    ohm: point.ohm,
    slope: slopes[i]!,
    deviation: knotDeviation(point, slopes[i]!, scale),
  }));
  return {
    kind: 'law-fit',
    law: { name: 'table', scale, knots },
    names: [],
    values: [],
    inverseNormal: [],
    chiSquared: 0,
    residuals: [],
    leverages: [],
  };
}

/** Index of the first point at which resistance changes its direction, or undefined when it never does. Source: definition. */
function firstTurn(points: readonly LawPoint[]): number | undefined {
  let direction = 0;
  for (let i = 1; i < points.length; i += 1) {
    const step = Math.sign(points[i]!.ohm - points[i - 1]!.ohm);
    if (step !== 0 && direction !== 0 && step !== direction) return i - 1;
    if (step !== 0) direction = step;
  }
  return undefined;
}

/**
 * One point for each value: repeats are averaged in ln R (thermal) or R.
 * Source: the standard uncertainty of a mean of independent readings, GUM (JCGM 100:2008) 5.1.2.
 */
function poolRepeats(points: readonly LawPoint[], scale: TableLaw['scale']): LawPoint[] {
  const groups = new Map<number, LawPoint[]>();
  for (const point of points) groups.set(point.argument, [...(groups.get(point.argument) ?? []), point]);
  return [...groups.values()].map((group) => {
    const first = group[0]!;
    if (group.length === 1) return first;
    const average = mean(group.map((point) => scaledOhm(scale, point.ohm)));
    return {
      ...first,
      ohm: scale === 'thermal' ? Math.exp(average) : average,
      argumentUncertainty: rootSumOfSquares(group.map((point) => point.argumentUncertainty)) / group.length,
      ohmUncertainty: rootSumOfSquares(group.map((point) => point.ohmUncertainty)) / group.length,
    };
  });
}

function knotSlopes(points: readonly LawPoint[], scale: TableLaw['scale']): readonly number[] {
  const places = points.map((point) => ({
    u: scaledArgument(scale, point.argument),
    w: scaledOhm(scale, point.ohm),
  }));
  // 1/T falls as T rises; the cubic wants its knots ascending.
  const ascending = scale === 'thermal' ? places.reverse() : places;
  const cubic = monotoneCubic(
    ascending.map(({ u }) => u),
    ascending.map(({ w }) => w),
  );
  if (cubic.kind === 'refused') return points.map(() => 0);
  return scale === 'thermal' ? [...cubic.slopes].reverse() : cubic.slopes;
}

function knotDeviation(point: LawPoint, slope: number, scale: TableLaw['scale']): number {
  const argumentScale = scale === 'thermal' ? scaledArgument(scale, point.argument) ** 2 : 1;
  const ohmScale = scale === 'thermal' ? 1 / point.ohm : 1;
  return Math.hypot(point.ohmUncertainty * ohmScale, slope * argumentScale * point.argumentUncertainty);
}
