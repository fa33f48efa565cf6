import { choleskyFactor, choleskySolve } from './cholesky';

type Quadratic = {
  /** Symmetric positive definite. */
  readonly gram: readonly (readonly number[])[];
  readonly right: readonly number[];
  /** Unknowns that may not be negative; the others are free. */
  readonly isNonnegative: readonly boolean[];
};

/**
 * The x that minimises x'G x / 2 - b'x with some of x not negative.
 * Source: active set of Lawson and Hanson, Solving Least Squares Problems, chapter 23 (from memory), on normal equations:
 * the penalty of the caller keeps G well conditioned. Undefined when G is not positive definite.
 */
export function nonnegativeMinimum({ gram, right, isNonnegative }: Quadratic): number[] | undefined {
  const size = right.length;
  const passive = isNonnegative.map((held) => !held);
  let x = solvePassive(gram, right, passive);
  if (x === undefined) return undefined;
  for (let count = 0; count < 3 * size; count += 1) {
    const entering = mostWanted(gram, right, x, passive);
    if (entering === undefined) return x;
    passive[entering] = true;
    const settled = settle({ gram, right, isNonnegative }, passive, x);
    if (settled === undefined) return undefined;
    x = settled;
  }
  return x;
}

/** Solves on the passive set, dropping unknowns that would go negative, until none does. */
function settle(problem: Quadratic, passive: boolean[], from: readonly number[]): number[] | undefined {
  let x = [...from];
  for (let count = 0; count <= x.length; count += 1) {
    const aim = solvePassive(problem.gram, problem.right, passive);
    if (aim === undefined) return undefined;
    let part = 1;
    aim.forEach((value, j) => {
      if (problem.isNonnegative[j] === true && passive[j] === true && value < 0)
        part = Math.min(part, x[j]! / (x[j]! - value));
    });
    if (part === 1) return aim;
    x = x.map((value, j) => value + part * (aim[j]! - value));
    x.forEach((value, j) => {
      if (problem.isNonnegative[j] === true && passive[j] === true && value <= 1e-14 && aim[j]! < 0) {
        passive[j] = false;
        x[j] = 0;
      }
    });
  }
  return x;
}

function mostWanted(
  gram: readonly (readonly number[])[],
  right: readonly number[],
  x: readonly number[],
  passive: readonly boolean[],
): number | undefined {
  let best: number | undefined;
  let largest = 0;
  gram.forEach((row, j) => {
    if (passive[j] === true) return;
    const pull = right[j]! - row.reduce((sum, entry, k) => sum + entry * x[k]!, 0);
    // Relative to the diagonal, so that rounding cannot make an unknown enter and leave for ever.
    const wanted = pull / Math.sqrt(row[j]!);
    if (wanted > largest + 1e-10 * Math.abs(right[j]! / Math.sqrt(row[j]!))) [best, largest] = [j, wanted];
  });
  return best;
}

function solvePassive(
  gram: readonly (readonly number[])[],
  right: readonly number[],
  passive: readonly boolean[],
): number[] | undefined {
  const index = passive.flatMap((isPassive, j) => (isPassive ? [j] : []));
  const factor = choleskyFactor(index.map((i) => index.map((j) => gram[i]![j]!)));
  if (factor === undefined) return undefined;
  const part = choleskySolve(
    factor,
    index.map((i) => right[i]!),
  );
  const x = new Array<number>(right.length).fill(0);
  index.forEach((j, k) => (x[j] = part[k]!));
  return x;
}
