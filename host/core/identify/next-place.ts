import type { KnownCurve, Observation } from './known-curve';
import { misfitFrom, type MisfitSums, sumsOf, withObservation } from './misfit';

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
  const [one, other] = [judged(first, observations), judged(second, observations)];
  const usual = {
    argumentUncertainty: median(observations.map((each) => each.argumentUncertainty)),
    observedUncertainty: median(observations.map((each) => each.observedUncertainty)),
  };
  let best: NextPlace | null = null;
  for (const argument of placesToTry(first, second)) {
    const firstExpects = first.expected(argument) + one.shift;
    const secondExpects = second.expected(argument) + other.shift;
    const expectedGain =
      (gain(other, { argument, observed: firstExpects, ...usual }) +
        gain(one, { argument, observed: secondExpects, ...usual })) /
      2;
    if (!Number.isFinite(expectedGain) || (best !== null && expectedGain <= best.expectedGain)) continue;
    best = { argument, firstExpects, secondExpects, expectedGain };
  }
  return best;
}

/** A curve with what the observations at hand already say about it. */
type Judged = {
  readonly curve: KnownCurve;
  readonly sums: MisfitSums;
  readonly chiSquared: number;
  readonly shift: number;
};

function judged(curve: KnownCurve, observations: readonly Observation[]): Judged {
  const sums = sumsOf(curve, observations);
  const { chiSquared, sharedShift } = misfitFrom(curve, sums);
  return { curve, sums, chiSquared, shift: sharedShift };
}

/** Chi-squared that a wrong curve would pay for an observation as the right one predicts it. */
const gain = ({ curve, sums, chiSquared }: Judged, predicted: Observation): number =>
  misfitFrom(curve, withObservation(curve, sums, predicted)).chiSquared - chiSquared;

const median = (values: readonly number[]): number =>
  [...values].sort((one, other) => one - other)[Math.floor(values.length / 2)]!;

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
