import type { Matrix } from './matrix';

/**
 * Householder QR with column pivoting, A P = Q R, kept in factored form.
 *
 *   packed, rows x columns     R on and above the diagonal,
 *     [ r r r ]                the tails of the reflectors below it;
 *     [ v r r ]                reflector j is I - tau[j] w w', w = (1, packed[j+1.., j])
 *     [ v v r ]
 *     [ v v v ]
 */
export type QrFactors = {
  readonly rows: number;
  readonly columns: number;
  readonly packed: Float64Array;
  readonly tau: Float64Array;
  /** Column `pivot[j]` of A is column j of R. */
  readonly pivot: Int32Array;
  readonly rank: number;
};

/** Below this fraction of the largest diagonal entry a column adds nothing but rounding. 2^-44: 8 bits above machine epsilon. */
const RANK_TOLERANCE = 2 ** -44;

/**
 * Factors a matrix; the numerical rank comes with it.
 * Source: Golub and Van Loan, Matrix Computations, algorithms 5.1.1 and 5.4.1 (from memory, checked by NIST StRD).
 */
export function qrFactor(matrix: Matrix): QrFactors {
  const { rows, columns } = matrix;
  const packed = Float64Array.from(matrix.data);
  const tau = new Float64Array(columns);
  const pivot = Int32Array.from({ length: columns }, (_, j) => j);
  const steps = Math.min(rows, columns);
  for (let j = 0; j < steps; j += 1) {
    bringLargestColumn(packed, pivot, { rows, columns, from: j });
    tau[j] = reflectColumn(packed, { rows, columns, at: j });
    for (let k = j + 1; k < columns; k += 1) applyReflector(packed, { rows, columns, at: j }, tau[j]!, k);
  }
  return { rows, columns, packed, tau, pivot, rank: numericalRank(packed, columns, steps) };
}

/** Q' b in full length. Source: as `qrFactor`. */
export function applyQTransposed(factors: QrFactors, vector: ArrayLike<number>): Float64Array {
  const { rows, columns, packed, tau } = factors;
  const out = Float64Array.from(vector);
  for (let j = 0; j < Math.min(rows, columns); j += 1) {
    let dot = out[j]!;
    for (let i = j + 1; i < rows; i += 1) dot += packed[i * columns + j]! * out[i]!;
    dot *= tau[j]!;
    out[j]! -= dot;
    for (let i = j + 1; i < rows; i += 1) out[i]! -= dot * packed[i * columns + j]!;
  }
  return out;
}

/**
 * The x that minimises |A x - b|; columns beyond the numerical rank get 0 (a basic solution).
 * Source: Golub and Van Loan, section 5.5 (from memory).
 */
export function solveLeastSquares(factors: QrFactors, vector: ArrayLike<number>): Float64Array {
  const { columns, packed, pivot, rank } = factors;
  const rotated = applyQTransposed(factors, vector);
  const solution = new Float64Array(columns);
  for (let j = rank - 1; j >= 0; j -= 1) {
    let sum = rotated[j]!;
    for (let k = j + 1; k < rank; k += 1) sum -= packed[j * columns + k]! * solution[pivot[k]!]!;
    solution[pivot[j]!] = sum / packed[j * columns + j]!;
  }
  return solution;
}

/**
 * (A'A)^-1 from R alone, never forming A'A. Rows and columns beyond the numerical rank are zero: ask `rank` first.
 * Source: (A'A)^-1 = P R^-1 R^-T P'.
 */
export function inverseNormal(factors: QrFactors): number[][] {
  const { columns, pivot, rank } = factors;
  const inverse = inverseOfR(factors);
  const out = Array.from({ length: columns }, () => new Array<number>(columns).fill(0));
  for (let i = 0; i < rank; i += 1) {
    for (let j = 0; j <= i; j += 1) {
      let sum = 0;
      for (let k = i; k < rank; k += 1) sum += inverse[i * rank + k]! * inverse[j * rank + k]!;
      out[pivot[i]!]![pivot[j]!] = sum;
      out[pivot[j]!]![pivot[i]!] = sum;
    }
  }
  return out;
}

function inverseOfR({ columns, packed, rank }: QrFactors): Float64Array {
  const inverse = new Float64Array(rank * rank);
  for (let column = 0; column < rank; column += 1) {
    inverse[column * rank + column] = 1 / packed[column * columns + column]!;
    for (let i = column - 1; i >= 0; i -= 1) {
      let sum = 0;
      for (let k = i + 1; k <= column; k += 1) sum += packed[i * columns + k]! * inverse[k * rank + column]!;
      inverse[i * rank + column] = -sum / packed[i * columns + i]!;
    }
  }
  return inverse;
}

type Place = { readonly rows: number; readonly columns: number; readonly at: number };

function bringLargestColumn(
  packed: Float64Array,
  pivot: Int32Array,
  { rows, columns, from }: { rows: number; columns: number; from: number },
): void {
  let best = from;
  let bestNorm = -1;
  for (let k = from; k < columns; k += 1) {
    let norm = 0;
    for (let i = from; i < rows; i += 1) norm += packed[i * columns + k]! ** 2;
    if (norm > bestNorm) [best, bestNorm] = [k, norm];
  }
  if (best === from) return;
  for (let i = 0; i < rows; i += 1) swap(packed, i * columns + from, i * columns + best);
  const held = pivot[from]!;
  pivot[from] = pivot[best]!;
  pivot[best] = held;
}

function swap(values: Float64Array, one: number, other: number): void {
  const held = values[one]!;
  values[one] = values[other]!;
  values[other] = held;
}

function reflectColumn(packed: Float64Array, { rows, columns, at }: Place): number {
  let tail = 0;
  for (let i = at + 1; i < rows; i += 1) tail += packed[i * columns + at]! ** 2;
  const head = packed[at * columns + at]!;
  if (tail === 0) return 0;
  const norm = Math.sqrt(head * head + tail);
  // The sign that adds, so that no digits cancel.
  const newHead = head > 0 ? -norm : norm;
  const pivotElement = head - newHead;
  for (let i = at + 1; i < rows; i += 1) packed[i * columns + at]! /= pivotElement;
  packed[at * columns + at] = newHead;
  return -pivotElement / newHead;
}

function applyReflector(packed: Float64Array, place: Place, tau: number, column: number): void {
  if (tau === 0) return;
  const { rows, columns, at } = place;
  let dot = packed[at * columns + column]!;
  for (let i = at + 1; i < rows; i += 1) dot += packed[i * columns + at]! * packed[i * columns + column]!;
  dot *= tau;
  packed[at * columns + column]! -= dot;
  for (let i = at + 1; i < rows; i += 1) packed[i * columns + column]! -= dot * packed[i * columns + at]!;
}

function numericalRank(packed: Float64Array, columns: number, steps: number): number {
  const largest = Math.abs(packed[0] ?? 0);
  let rank = 0;
  while (rank < steps && Math.abs(packed[rank * columns + rank]!) > RANK_TOLERANCE * largest) rank += 1;
  return rank;
}
