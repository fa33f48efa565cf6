import type { KnownCurve, Observation } from './known-curve';
import { misfitOf } from './misfit';

/** One further measurement and what each of two curves expects there. */
export type NextPlace = {
  /** Where to measure: value of a sender, resistance for a gauge. */
  readonly argument: number;
  readonly firstExpects: number;
  readonly secondExpects: number;
  /** Chi-squared by which the second is expected to fall behind if the first is right, averaged with the reverse. */
  readonly expectedGain: number;
};

const GRID = 200;

/**
 * The place at which one more observation, as uncertain as those at hand, separates two curves best. What the points
 * already say about a shared shift is taken into account: a pair that differs by a factor only is told apart by nothing.
 * Source: greatest expected log-likelihood ratio, Box and Hill, Technometrics 9 (1967) 57-71 (from memory).
 */
export function bestNextPlace(
  first: KnownCurve,
  second: KnownCurve,
  observations: readonly Observation[],
): NextPlace | null {
  let best: NextPlace | null = null;
  for (const argument of placesToTry(first, second)) {
    const expectedGain =
      (gainIfRight(first, second, { observations, argument }) +
        gainIfRight(second, first, { observations, argument })) /
      2;
    if (!Number.isFinite(expectedGain) || (best !== null && expectedGain <= best.expectedGain)) continue;
    best = {
      argument,
      firstExpects: first.expected(argument) + misfitOf(first, observations).sharedShift,
      secondExpects: second.expected(argument) + misfitOf(second, observations).sharedShift,
      expectedGain,
    };
  }
  return best;
}

type Trial = { readonly observations: readonly Observation[]; readonly argument: number };

function gainIfRight(right: KnownCurve, wrong: KnownCurve, { observations, argument }: Trial): number {
  const predicted: Observation = {
    argument,
    observed: right.expected(argument) + misfitOf(right, observations).sharedShift,
    argumentUncertainty: typical(observations.map((each) => each.argumentUncertainty)),
    observedUncertainty: typical(observations.map((each) => each.observedUncertainty)),
  };
  return misfitOf(wrong, [...observations, predicted]).chiSquared - misfitOf(wrong, observations).chiSquared;
}

const typical = (uncertainties: readonly number[]): number =>
  [...uncertainties].sort((one, other) => one - other)[Math.floor(uncertainties.length / 2)]!;

/** Places within both known ranges, or within either when they do not meet; spaced by ratio over more than a decade. */
function placesToTry(first: KnownCurve, second: KnownCurve): number[] {
  const meet = Math.max(first.from, second.from) < Math.min(first.to, second.to);
  const from = meet ? Math.max(first.from, second.from) : Math.min(first.from, second.from);
  const to = meet ? Math.min(first.to, second.to) : Math.max(first.to, second.to);
  const isWide = from > 0 && to > 10 * from;
  return Array.from({ length: GRID + 1 }, (_, step) =>
    isWide ? from * (to / from) ** (step / GRID) : from + ((to - from) * step) / GRID,
  );
}
