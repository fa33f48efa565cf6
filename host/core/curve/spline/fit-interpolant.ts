import { cubicAt, monotoneCubic } from '../../numeric/monotone-cubic';
import { refuse } from '../../refusal';
import type { Refusal } from '../../refusal';
import type { FitContext, RawFit } from '../readings/fit-context';
import { axisPosition } from '../readings/log-axis';
import type { LawModel } from '../types';

export type InterpolantModel = Extract<LawModel, { form: 'interpolant' }>;

/** It joins what a person read one by one; its covariance grows with the square of this. */
const MOST_KNOTS = 500;

type Knot = { position: number; sum: number; weight: number };

/** Axes that are tried: ln R, one that is straight up to the middle of the range, and ohms themselves. */
const OFFSETS: readonly ((lowOhm: number, highOhm: number) => number)[] = [
  (lowOhm, highOhm) => Math.sqrt((lowOhm + 0.02 * highOhm) * highOhm),
  (_, highOhm) => 100 * highOhm,
];
/** With fewer settings one left out says nothing of an axis. */
const FEWEST_TO_CHOOSE = 6;

/**
 * A monotone cubic through the mean reading of each setting, on the axis on which it best foretells each setting from
 * the others; settings out of order are pooled until they are in order.
 * It follows every reading and so says nothing about their scatter: the expectation alone gives its uncertainty.
 * Source: pool adjacent violators (Ayer et al. 1955), then `monotoneCubic`; leaving one out, Stone (1974), J. R. Statist.
 * Soc. B 36, 111-147 (from memory).
 * Refuses: more than MOST_KNOTS different resistances (FIT_TOO_MANY_KNOTS).
 */
export function fitInterpolant(
  context: FitContext,
  half: number,
): RawFit<InterpolantModel> | Refusal<'FIT_TOO_MANY_KNOTS'> {
  const first = interpolantOn(context, half);
  if (first.kind === 'refused' || first.freedom < FEWEST_TO_CHOOSE) return first;
  const { fitted } = context.observations;
  const [lowOhm, highOhm] = [fitted[0]!.ohm, fitted.at(-1)!.ohm];
  let best = { fit: first, miss: missWithoutEach(first.model) };
  for (const offsetOf of OFFSETS) {
    const axis = { ...context.axis, offsetOhm: offsetOf(lowOhm, highOhm) };
    const fit = interpolantOn({ ...context, axis }, half);
    if (fit.kind === 'refused') continue;
    const miss = missWithoutEach(fit.model);
    if (miss < best.miss) best = { fit, miss };
  }
  return best.fit;
}

/** Sum of squares by which the knots are missed when each, but for the ends, is foretold from the others. */
function missWithoutEach({ knots, parameters }: InterpolantModel): number {
  return knots.slice(1, -1).reduce((sum, knot, k) => {
    const isOther = (_: number, i: number): boolean => i !== k + 1;
    const cubic = monotoneCubic(knots.filter(isOther), parameters.filter(isOther));
    return cubic.kind === 'refused' ? Infinity : sum + (cubicAt(cubic, knot) - parameters[k + 1]!) ** 2;
  }, 0);
}

function interpolantOn(
  context: FitContext,
  half: number,
): RawFit<InterpolantModel> | Refusal<'FIT_TOO_MANY_KNOTS'> {
  const { observations, axis, weights } = context;
  const sense = observations.risesWithResistance ? 1 : -1;
  const knots: Knot[] = [];
  observations.fitted.forEach((row, i) => {
    const position = axisPosition(axis, row.ohm);
    const value = (row.reading - half * row.legSign) * weights[i]!;
    const last = knots.at(-1);
    const isSame = last !== undefined && position - last.position < 1e-9;
    if (isSame) Object.assign(last, { sum: last.sum + value, weight: last.weight + weights[i]! });
    else knots.push({ position, sum: value, weight: weights[i]! });
  });
  if (knots.length > MOST_KNOTS)
    return refuse('FIT_TOO_MANY_KNOTS', { knotCount: knots.length, most: MOST_KNOTS });
  const parameters = inOrder(knots, sense);
  const model: InterpolantModel = {
    form: 'interpolant',
    name: 'interpolant',
    axis,
    knots: knots.map((knot) => knot.position),
    parameters,
    covariance: knots.map((knot, i) => knots.map((_, j) => (i === j ? 1 / Math.max(knot.weight, 1e-6) : 0))),
  };
  const residuals = observations.fitted.map((row) => {
    const at = axisPosition(axis, row.ohm);
    const knot = knots.findIndex(({ position }) => at - position < 1e-9);
    return row.reading - parameters[knot]! - half * row.legSign;
  });
  return {
    kind: 'fit',
    model,
    half,
    halfInverse: 0,
    sumOfSquares: residuals.reduce((sum, value, i) => sum + weights[i]! * value * value, 0),
    freedom: knots.length,
    residuals,
  };
}

function inOrder(knots: readonly Knot[], sense: number): number[] {
  const pools: { sum: number; weight: number; count: number }[] = [];
  for (const { sum, weight } of knots) {
    let last = { sum, weight, count: 1 };
    for (let before = pools.at(-1); before !== undefined; before = pools.at(-1)) {
      if (sense * (last.sum / last.weight - before.sum / before.weight) >= 0) break;
      pools.pop();
      last = {
        sum: last.sum + before.sum,
        weight: last.weight + before.weight,
        count: last.count + before.count,
      };
    }
    pools.push(last);
  }
  return pools.flatMap(({ sum, weight, count }) => new Array<number>(count).fill(sum / weight));
}
