import type { Matrix } from './matrix';
import { applyQTransposed, qrFactor, solveLeastSquares } from './qr';
import type { QrFactors } from './qr';

/** A sum of squares to be made small. */
export type ResidualProblem = {
  readonly residualCount: number;
  readonly parameterCount: number;
  /**
   * Writes the residuals and, when `jacobian` is given, d residual i / d parameter j at `jacobian[i * parameterCount + j]`.
   * A residual that is not finite means that these parameters are not allowed.
   */
  readonly evaluate: (
    parameters: Float64Array,
    residuals: Float64Array,
    jacobian: Float64Array | undefined,
  ) => void;
};

export type Bounds = { readonly lower?: readonly number[]; readonly upper?: readonly number[] };

/** Where a descent stands: everything at one set of parameters. */
export type Position = {
  readonly parameters: Float64Array;
  readonly residuals: Float64Array;
  readonly jacobian: Float64Array;
  readonly sumOfSquares: number;
};

export type Descent = Position & { readonly iterations: number; readonly settled: boolean };

type Damping = { lambda: number; growth: number };

const FIRST_LAMBDA = 1e-3;
const LARGEST_LAMBDA = 1e20;
const SMALLEST_LAMBDA = 1e-20;
/** A step below this fraction of the parameters (in column scale) no longer changes a printed digit. */
const STEP_TOLERANCE = 1e-13;
/** Steps larger than this part of the parameters bend; the second-order correction pays from here on. */
const BENDING_STEP = 1e-3;
/** Largest correction, relative to the step, that is trusted. Source: Transtrum and Sethna, arXiv 1201.5885, section 4 (from memory). */
const LARGEST_BEND = 0.75;
const PROBE = 0.1;
const POLISHING_STEPS = 6;

/** Evaluates a problem at some parameters, or undefined when that place is not allowed. Source: definition. */
export function positionAt(problem: ResidualProblem, parameters: Float64Array): Position | undefined {
  const residuals = new Float64Array(problem.residualCount);
  const jacobian = new Float64Array(problem.residualCount * problem.parameterCount);
  problem.evaluate(parameters, residuals, jacobian);
  const sumOfSquares = squared(residuals);
  // Finite only if every entry is: a sum cannot lose an infinity or a NaN.
  if (!Number.isFinite(sumOfSquares) || !Number.isFinite(jacobian.reduce((sum, entry) => sum + entry, 0)))
    return undefined;
  return { parameters, residuals, jacobian, sumOfSquares };
}

/**
 * One Levenberg-Marquardt descent from a start: trust by Nielsen's rule, columns scaled by their
 * norms, steps corrected for curvature along the geodesic, parameters kept within bounds, and undamped steps at the end
 * so that the last digits are those of the normal equations.
 * Source: Marquardt (1963), SIAM J. 11, 431-441; More (1978), Lecture Notes in Mathematics 630, 105-116; geodesic
 * correction after Transtrum and Sethna, arXiv 1201.5885 (all from memory, checked by NIST StRD).
 */
export function descend(
  problem: ResidualProblem,
  start: Position,
  bounds: Bounds,
  iterationLimit: number,
): Descent {
  const damping: Damping = { lambda: FIRST_LAMBDA, growth: 2 };
  let here = start;
  for (let iteration = 0; iteration < iterationLimit; iteration += 1) {
    const scale = columnScale(here.jacobian, problem.parameterCount);
    const next = acceptedStep(problem, here, { scale, damping, bounds });
    if (next === undefined || next.sumOfSquares === 0)
      return { ...polish(problem, next ?? here, bounds), iterations: iteration + 1, settled: true };
    const moved = relativeStep(here.parameters, next.parameters, scale);
    here = next;
    if (moved < STEP_TOLERANCE)
      return { ...polish(problem, here, bounds), iterations: iteration + 1, settled: true };
  }
  return { ...here, iterations: iterationLimit, settled: false };
}

type StepContext = { readonly scale: Float64Array; readonly damping: Damping; readonly bounds: Bounds };

/** The next better position, or undefined when no damping finds one: then this is the bottom. */
function acceptedStep(problem: ResidualProblem, here: Position, context: StepContext): Position | undefined {
  const { damping, scale, bounds } = context;
  const free = freeColumns(here, bounds);
  const factors = qrFactor(maskedJacobian(here, free));
  const rotated = applyQTransposed(factors, here.residuals);
  while (damping.lambda < LARGEST_LAMBDA) {
    const plain = dampedStep(factors, rotated, damping.lambda, scale);
    const step = correctedStep(problem, here, { factors, plain, lambda: damping.lambda, scale });
    const next = step === undefined ? undefined : trial(problem, here, step, bounds);
    const predicted = predictedFall(here, factors, plain);
    if (next !== undefined && next.sumOfSquares < here.sumOfSquares) {
      const gain = (here.sumOfSquares - next.sumOfSquares) / Math.max(predicted, Number.MIN_VALUE);
      damping.lambda = Math.max(damping.lambda * Math.max(1 / 3, 1 - (2 * gain - 1) ** 3), SMALLEST_LAMBDA);
      damping.growth = 2;
      return next;
    }
    // What the linear model still promises is below the rounding of the sum itself.
    if (predicted <= 1e-15 * here.sumOfSquares) return undefined;
    damping.lambda *= damping.growth;
    damping.growth *= 2;
  }
  damping.lambda = FIRST_LAMBDA;
  return undefined;
}

/** Solved in scaled unknowns, so that the rank test inside QR cannot drop a parameter for the sake of its unit. */
function dampedStep(
  factors: QrFactors,
  rotated: Float64Array,
  lambda: number,
  scale: Float64Array,
): Float64Array {
  const size = factors.columns;
  const data = new Float64Array(2 * size * size);
  const right = new Float64Array(2 * size);
  for (let i = 0; i < size; i += 1) {
    for (let j = i; j < size && i < factors.rows; j += 1) {
      const column = factors.pivot[j]!;
      data[i * size + column] = factors.packed[i * size + j]! / scale[column]!;
    }
    data[(size + i) * size + i] = Math.sqrt(lambda);
    right[i] = i < factors.rows ? -rotated[i]! : 0;
  }
  const step = solveLeastSquares(qrFactor({ rows: 2 * size, columns: size, data }), right);
  return step.map((value, j) => value / scale[j]!);
}

type Curvature = {
  readonly factors: QrFactors;
  readonly plain: Float64Array;
  readonly lambda: number;
  readonly scale: Float64Array;
};

/** The step with its second-order correction; undefined when the path bends too much to be trusted. */
function correctedStep(
  problem: ResidualProblem,
  here: Position,
  { factors, plain, lambda, scale }: Curvature,
): Float64Array | undefined {
  const zero = new Float64Array(plain.length);
  const length = relativeStep(zero, plain, scale);
  if (length < BENDING_STEP * relativeStep(zero, here.parameters, scale)) return plain;
  const probe = new Float64Array(problem.residualCount);
  problem.evaluate(
    here.parameters.map((value, j) => value + PROBE * plain[j]!),
    probe,
    undefined,
  );
  const slope = times(here.jacobian, plain, problem.residualCount);
  const bend = probe.map((value, i) => (2 / PROBE) * ((value - here.residuals[i]!) / PROBE - slope[i]!));
  if (!Number.isFinite(squared(bend))) return undefined;
  const correction = dampedStep(factors, applyQTransposed(factors, bend), lambda, scale);
  if (relativeStep(zero, correction, scale) > LARGEST_BEND * length) return undefined;
  return plain.map((value, j) => value + 0.5 * correction[j]!);
}

function trial(
  problem: ResidualProblem,
  here: Position,
  step: Float64Array,
  bounds: Bounds,
): Position | undefined {
  return positionAt(
    problem,
    withinBounds(
      here.parameters.map((value, j) => value + step[j]!),
      bounds,
    ),
  );
}

/** Undamped Gauss-Newton steps as long as they shrink: they settle the digits that the sum of squares cannot see. */
function polish(problem: ResidualProblem, from: Position, bounds: Bounds): Position {
  let here = from;
  let shortest = Infinity;
  for (let count = 0; count < POLISHING_STEPS; count += 1) {
    const step = undampedStep(here, freeColumns(here, bounds));
    const length = relativeStep(
      here.parameters,
      here.parameters.map((value, j) => value + step[j]!),
    );
    const next = length < shortest ? trial(problem, here, step, bounds) : undefined;
    if (next === undefined || next.sumOfSquares > here.sumOfSquares * (1 + 1e-10)) return here;
    [here, shortest] = [next, length];
  }
  return here;
}

function undampedStep(here: Position, free: readonly boolean[]): Float64Array {
  const scale = columnScale(here.jacobian, free.length);
  const masked = maskedJacobian(here, free);
  const data = masked.data.map((entry, index) => entry / scale[index % free.length]!);
  const right = here.residuals.map((value) => -value);
  return solveLeastSquares(qrFactor({ ...masked, data }), right).map((value, j) => value / scale[j]!);
}

/** Keeps parameters inside their bounds. Source: definition. */
export const withinBounds = (parameters: Float64Array, { lower, upper }: Bounds): Float64Array =>
  parameters.map((value, j) => Math.min(Math.max(value, lower?.[j] ?? -Infinity), upper?.[j] ?? Infinity));

/** Which parameters may move: not those that sit at a bound and are pushed outward. Source: Karush-Kuhn-Tucker. */
export function freeColumns(here: Position, { lower, upper }: Bounds): boolean[] {
  const size = here.parameters.length;
  return Array.from(here.parameters, (value, j) => {
    if (lower?.[j] === undefined && upper?.[j] === undefined) return true;
    let gradient = 0;
    here.residuals.forEach((residual, i) => (gradient += residual * here.jacobian[i * size + j]!));
    return !(
      (value <= (lower?.[j] ?? -Infinity) && gradient >= 0) ||
      (value >= (upper?.[j] ?? Infinity) && gradient <= 0)
    );
  });
}

/** The Jacobian with the columns of held parameters zeroed. Source: definition. */
export function maskedJacobian(here: Position, free: readonly boolean[]): Matrix {
  const columns = free.length;
  const data = free.every(Boolean)
    ? here.jacobian
    : here.jacobian.map((entry, index) => (free[index % columns] === true ? entry : 0));
  return { rows: here.residuals.length, columns, data };
}

/** Norms of the columns; one for a column of zeros, which then gets no step. */
function columnScale(jacobian: Float64Array, size: number): Float64Array {
  const scale = new Float64Array(size);
  for (let index = 0; index < jacobian.length; index += 1) scale[index % size]! += jacobian[index]! ** 2;
  return scale.map((sum) => (sum > 0 ? Math.sqrt(sum) : 1));
}

function predictedFall(here: Position, factors: QrFactors, step: Float64Array): number {
  const change = times(here.jacobian, step, factors.rows);
  let fall = 0;
  here.residuals.forEach((residual, i) => (fall -= change[i]! * (2 * residual + change[i]!)));
  return fall;
}

/** Length of the step relative to the parameters, both in column scale (plain relative length without a scale). */
function relativeStep(from: Float64Array, to: Float64Array, scale?: Float64Array): number {
  let step = 0;
  let size = 0;
  for (let j = 0; j < to.length; j += 1) {
    const weight = scale?.[j] ?? 1 / Math.max(Math.abs(to[j]!), Number.MIN_VALUE);
    step += (weight * (to[j]! - from[j]!)) ** 2;
    size += (weight * from[j]!) ** 2;
  }
  return size > 0 ? Math.sqrt(step / size) : Math.sqrt(step);
}

function times(jacobian: Float64Array, vector: Float64Array, rows: number): Float64Array {
  const columns = vector.length;
  return Float64Array.from({ length: rows }, (_, i) => {
    let sum = 0;
    for (let j = 0; j < columns; j += 1) sum += jacobian[i * columns + j]! * vector[j]!;
    return sum;
  });
}

function squared(values: Float64Array): number {
  let sum = 0;
  for (const value of values) sum += value * value;
  return sum;
}
