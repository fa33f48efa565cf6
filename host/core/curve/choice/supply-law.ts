import { placeOf } from '../../dial';
import { observationsOf } from '../readings/observations';
import { preparedContext } from '../readings/prepare';
import { atVolts } from '../readings/at-volts';
import type { SupplyLaw } from '../readings/at-volts';
import { readingStepOf } from '../readings/reading-step';
import { fitShape } from '../laws/fit-shape';
import { shapes } from '../laws/shapes';
import { fitSpline } from '../spline/fit-spline';
import type { CurveOptions, GaugeReading, Mechanism } from '../types';
import { correctedCriterion } from './candidates';

export type SupplyChoice = SupplyLaw & {
  /** Geometric mean of the volts noted: taken to it the readings keep their scatter. */
  readonly meanVolt: number;
  /** Akaike weight of each exponent tried. */
  readonly odds: readonly { readonly exponent: number; readonly weight: number }[];
};

/** Volts that differ by less than this part say nothing about an exponent. */
const LEAST_CHANGE = 0.02;
/** The needle is taken to follow its supply when the odds for it are at least these. */
const DECIDED = 0.9;
const FEWEST = 6;
/** Readings that are tried: the search fits them some tens of times. */
const MOST = 200;
/** Where the needle may stand without current, in spans beyond the outermost reading: up to the stop, or to where it would stand without one. */
const BEYOND = [0, 0.03, 0.07, 0.12, 0.2, 0.35, 0.6];

/**
 * How the needle follows the noted volts: the exponents its mechanism may have are tried, each with the no-current
 * position that serves it best. Undefined where the volts were not noted, or did not change.
 * Source: Akaike's criterion as in `candidates`; exponents from trade notes 1.6. A thermal gauge follows the heat (2) at
 * its own feed terminal; ahead of a working stabiliser it does not follow at all.
 */
export function supplyLawOf(
  readings: readonly GaugeReading[],
  options: CurveOptions,
): SupplyChoice | undefined {
  const noted = readings.flatMap((one) => one.supplyVolt ?? []);
  if (noted.length < Math.max(FEWEST, 0.5 * readings.length) || readings.length > MOST) return undefined;
  const meanVolt = Math.exp(noted.reduce((sum, volt) => sum + Math.log(volt), 0) / noted.length);
  if (!(Math.max(...noted) / Math.min(...noted) > 1 + LEAST_CHANGE)) return undefined;
  const readingStep = options.readingStep ?? readingStepOf(readings.map((one) => one.reading));
  const criterion = (law: SupplyLaw, parameters: number): number => {
    const moved = atVolts(readings, law, { dial: options.dial, referenceVolt: meanVolt });
    return criterionOf(moved, { ...options, readingStep }, parameters);
  };
  const tried = exponentsOf(options.mechanism, readings).map((exponent) =>
    exponent === 0
      ? { exponent, noCurrentPlace: 0, score: criterion({ exponent, noCurrentPlace: 0 }, 0) }
      : {
          exponent,
          ...bestRest(readings, options.dial, (noCurrentPlace) => criterion({ exponent, noCurrentPlace }, 1)),
        },
  );
  const best = tried.reduce((one, other) => (other.score < one.score ? other : one));
  if (!Number.isFinite(best.score)) return undefined;
  const weights = tried.map(({ score }) => Math.exp((best.score - score) / 2));
  const total = weights.reduce((a, b) => a + b, 0);
  const still = tried.find(({ exponent }) => exponent === 0);
  const taken = 1 / total < DECIDED && still !== undefined ? still : best;
  return {
    exponent: taken.exponent,
    noCurrentPlace: taken.noCurrentPlace,
    meanVolt,
    odds: tried.map(({ exponent }, i) => ({ exponent, weight: weights[i]! / total })),
  };
}

function exponentsOf(mechanism: Mechanism | undefined, readings: readonly GaugeReading[]): readonly number[] {
  switch (mechanism) {
    case 'thermal':
      return readings.every((one) => one.supplyAt === 'feed') ? [2] : [0, 2];
    case 'moving-coil':
      return [0, 1];
    case 'two-coil':
    case 'cross-coil':
    case 'electronic':
      return [0];
    case 'unknown':
    case undefined:
      return [0, 1, 2];
  }
}

/** The no-current position with the lowest score: on a grid, then between its neighbours by thirds. */
function bestRest(
  readings: readonly GaugeReading[],
  dial: CurveOptions['dial'],
  score: (place: number) => number,
): { readonly noCurrentPlace: number; readonly score: number } {
  const places = readings.map((one) => placeOf(dial, one.reading));
  const [low, high] = [Math.min(...places), Math.max(...places)];
  const grid = [
    ...[...BEYOND].reverse().map((part) => low - part * (high - low)),
    ...BEYOND.map((part) => high + part * (high - low)),
  ];
  const scores = grid.map(score);
  const at = scores.indexOf(Math.min(...scores));
  let [from, to] = [grid[Math.max(0, at - 1)]!, grid[Math.min(grid.length - 1, at + 1)]!];
  // Never across the readings: the needle stands without current on one side of them all.
  if (grid[at]! <= low) to = Math.min(to, low);
  else from = Math.max(from, high);
  let best = { noCurrentPlace: grid[at]!, score: scores[at]! };
  for (let round = 0; round < 6; round += 1) {
    const [one, other] = [from + (to - from) / 3, to - (to - from) / 3];
    const [oneScore, otherScore] = [score(one), score(other)];
    if (oneScore < otherScore) to = other;
    else from = one;
    const [place, least] = oneScore < otherScore ? [one, oneScore] : [other, otherScore];
    if (least < best.score) best = { noCurrentPlace: place, score: least };
  }
  return best;
}

function criterionOf(readings: readonly GaugeReading[], options: CurveOptions, parameters: number): number {
  const observations = observationsOf(readings, options);
  if (observations.kind === 'refused') return Infinity;
  const context = preparedContext(observations, []);
  const fits = [...shapes.slice(0, 3).map((shape) => fitShape(shape, context)), fitSpline(context)];
  const among = context.whitening.effectiveCount;
  return Math.min(
    ...fits.map((fit) =>
      fit.kind === 'refused' ? Infinity : correctedCriterion(fit, context, { count: parameters, among }),
    ),
  );
}
