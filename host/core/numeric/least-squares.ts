import { refuse } from '../refusal';
import type { Refusal } from '../refusal';
import { descend, freeColumns, maskedJacobian, positionAt, withinBounds } from './levenberg-marquardt';
import type { Bounds, Descent, Position, ResidualProblem } from './levenberg-marquardt';
import { inverseNormal, qrFactor, solveLeastSquares } from './qr';
import { spreadStarts } from './spread-starts';

export type { Bounds, ResidualProblem } from './levenberg-marquardt';

export type LeastSquaresOptions = {
  /** First guess of the parameters. */
  readonly start: readonly number[];
  /** Further guesses; the lowest sum of squares wins. */
  readonly otherStarts?: readonly (readonly number[])[];
  readonly bounds?: Bounds;
  /**
   * Parameters in which the residuals are linear (amplitudes, offsets). Their guesses are not used: at every start they
   * are solved for first, which removes most false minima.
   */
  readonly linearParameters?: readonly number[];
  /**
   * How many further starts, orders of magnitude around the first, to try as well. Without it they are tried only when
   * the descent from the given ones crawls or runs away.
   */
  readonly spread?: number;
  readonly iterationLimit?: number;
};

/** A fit as plain data. Parameters at a bound count as known: their rows of the covariance are zero. */
export type LeastSquaresFit = {
  readonly kind: 'fit';
  readonly parameters: readonly number[];
  /** s^2 (J'J)^-1; absent when nothing is left over to estimate s from. */
  readonly covariance: readonly (readonly number[])[] | undefined;
  readonly standardDeviations: readonly number[] | undefined;
  /** (J'J)^-1: the covariance for residuals that were divided by known standard uncertainties. */
  readonly inverseNormal: readonly (readonly number[])[];
  readonly residuals: readonly number[];
  readonly residualSumOfSquares: number;
  readonly degreesOfFreedom: number;
  readonly residualStandardDeviation: number | undefined;
  readonly parametersAtBound: readonly number[];
  readonly iterations: number;
  /** False when the iteration limit ended the descent: the parameters are the best seen, not the best there are. */
  readonly settled: boolean;
};

export type LeastSquaresRefusal = Refusal<
  'LEAST_SQUARES_TOO_FEW' | 'LEAST_SQUARES_START' | 'LEAST_SQUARES_UNDETERMINED'
>;

const ITERATION_LIMIT = 300;
/** Starts tried when a descent does not settle, and the few steps each gets to show what it is worth. */
const RESCUE_STARTS = 40;
const SCOUT_ITERATIONS = 25;
/** Scouts that are followed to the bottom. */
const FOLLOWED_SCOUTS = 4;

/**
 * Nonlinear least squares from one or many starts, with the covariance of the parameters.
 * Source: Levenberg-Marquardt as in `levenberg-marquardt`; covariance s^2 (J'J)^-1 by QR, Bates and Watts, Nonlinear
 * Regression Analysis (1988), section 2.
 * Refuses: fewer residuals than parameters (LEAST_SQUARES_TOO_FEW), no start with finite residuals
 * (LEAST_SQUARES_START), data that leave a combination of parameters free (LEAST_SQUARES_UNDETERMINED).
 */
export function leastSquares(
  problem: ResidualProblem,
  options: LeastSquaresOptions,
): LeastSquaresFit | LeastSquaresRefusal {
  const { residualCount, parameterCount } = problem;
  if (residualCount < parameterCount)
    return refuse('LEAST_SQUARES_TOO_FEW', { observationCount: residualCount, parameterCount });
  const best = bestDescent(problem, options);
  if (best === undefined) return refuse('LEAST_SQUARES_START', {});
  return describe(best, options.bounds ?? {});
}

/**
 * A model y = f(x, parameters) with optional standard uncertainties of y as a residual problem (model - y) / u.
 * `model` returns f and writes its gradient. Source: definition.
 */
export function curveProblem(
  data: { readonly x: readonly number[]; readonly y: readonly number[]; readonly u?: readonly number[] },
  parameterCount: number,
  model: (x: number, parameters: Float64Array, gradient: Float64Array | undefined) => number,
): ResidualProblem {
  const gradient = new Float64Array(parameterCount);
  return {
    residualCount: data.x.length,
    parameterCount,
    evaluate: (parameters, residuals, jacobian) => {
      for (let i = 0; i < data.x.length; i += 1) {
        const weight = 1 / (data.u?.[i] ?? 1);
        residuals[i] =
          (model(data.x[i]!, parameters, jacobian === undefined ? undefined : gradient) - data.y[i]!) *
          weight;
        if (jacobian === undefined) continue;
        for (let j = 0; j < parameterCount; j += 1) jacobian[i * parameterCount + j] = gradient[j]! * weight;
      }
    },
  };
}

function bestDescent(problem: ResidualProblem, options: LeastSquaresOptions): Descent | undefined {
  const limit = options.iterationLimit ?? ITERATION_LIMIT;
  const guesses = [options.start, ...(options.otherStarts ?? [])];
  const direct = lowest(guesses.map((guess) => descendFrom(problem, guess, options, limit)));
  const spread = options.spread ?? (isSound(direct, options.bounds ?? {}) ? 0 : RESCUE_STARTS);
  if (spread === 0) return direct;
  const scouts = spreadStarts(options.start, spread)
    .flatMap((guess) => descendFrom(problem, guess, options, SCOUT_ITERATIONS) ?? [])
    .sort((one, other) => one.sumOfSquares - other.sumOfSquares)
    .slice(0, FOLLOWED_SCOUTS);
  return lowest([direct, ...scouts.map((scout) => descend(problem, scout, options.bounds ?? {}, limit))]);
}

/** False for a descent that crawled, or that ran away to where a parameter no longer matters. */
function isSound(descent: Descent | undefined, bounds: Bounds): boolean {
  if (descent?.settled !== true) return false;
  const free = freeColumns(descent, bounds);
  return scaledInverseNormal(descent, free, free.filter(Boolean).length) !== undefined;
}

function descendFrom(
  problem: ResidualProblem,
  guess: readonly number[],
  options: LeastSquaresOptions,
  limit: number,
): Descent | undefined {
  const start = startingPosition(problem, guess, options);
  return start === undefined ? undefined : descend(problem, start, options.bounds ?? {}, limit);
}

function lowest(descents: readonly (Descent | undefined)[]): Descent | undefined {
  let best: Descent | undefined;
  for (const one of descents)
    if (one !== undefined && (best === undefined || one.sumOfSquares < best.sumOfSquares)) best = one;
  return best;
}

/** A start with its linear parameters already solved for: one restricted Gauss-Newton step is exact in them. */
function startingPosition(
  problem: ResidualProblem,
  guess: readonly number[],
  { bounds, linearParameters }: LeastSquaresOptions,
): Position | undefined {
  const given = positionAt(problem, withinBounds(Float64Array.from(guess), bounds ?? {}));
  if (given === undefined || linearParameters === undefined) return given;
  const isLinear = Array.from({ length: problem.parameterCount }, (_, j) => linearParameters.includes(j));
  const step = solveLeastSquares(
    qrFactor(maskedJacobian(given, isLinear)),
    given.residuals.map((value) => -value),
  );
  const moved = given.parameters.map((value, j) => value + step[j]!);
  const solved = positionAt(problem, withinBounds(moved, bounds ?? {}));
  return solved !== undefined && solved.sumOfSquares < given.sumOfSquares ? solved : given;
}

function describe(descent: Descent, bounds: Bounds): LeastSquaresFit | LeastSquaresRefusal {
  const free = freeColumns(descent, bounds);
  const freeCount = free.filter(Boolean).length;
  const inverse = scaledInverseNormal(descent, free, freeCount);
  if (inverse === undefined) return refuse('LEAST_SQUARES_UNDETERMINED', {});
  const degreesOfFreedom = descent.residuals.length - freeCount;
  const variance = degreesOfFreedom > 0 ? descent.sumOfSquares / degreesOfFreedom : undefined;
  const covariance = variance === undefined ? undefined : inverse.map((row) => row.map((v) => v * variance));
  return {
    kind: 'fit',
    parameters: [...descent.parameters],
    covariance,
    standardDeviations: covariance?.map((row, j) => Math.sqrt(row[j]!)),
    inverseNormal: inverse,
    residuals: [...descent.residuals],
    residualSumOfSquares: descent.sumOfSquares,
    degreesOfFreedom,
    residualStandardDeviation: variance === undefined ? undefined : Math.sqrt(variance),
    parametersAtBound: free.flatMap((isFree, j) => (isFree ? [] : [j])),
    iterations: descent.iterations,
    settled: descent.settled,
  };
}

/** (J'J)^-1 with every column brought to length one first, so that units do not decide about rank. */
function scaledInverseNormal(
  here: Position,
  free: readonly boolean[],
  freeCount: number,
): number[][] | undefined {
  const masked = maskedJacobian(here, free);
  const norms = free.map((_, j) => {
    let sum = 0;
    for (let index = j; index < masked.data.length; index += free.length) sum += masked.data[index]! ** 2;
    return sum > 0 ? Math.sqrt(sum) : 1;
  });
  const data = masked.data.map((entry, index) => entry / norms[index % free.length]!);
  const factors = qrFactor({ ...masked, data });
  if (factors.rank < freeCount) return undefined;
  return inverseNormal(factors).map((row, i) => row.map((entry, j) => entry / (norms[i]! * norms[j]!)));
}
