import { type Refusal, refuse } from '../refusal';

/** Correlation coefficient between two inputs, by name; pairs that are not listed are independent. */
export type CorrelationPair = { readonly between: readonly [string, string]; readonly coefficient: number };

export type CorrelationMatrix = {
  readonly kind: 'correlation-matrix';
  readonly rows: readonly (readonly number[])[];
  /** L with L L' = rows, for drawing correlated inputs. */
  readonly factor: readonly (readonly number[])[];
};

/** Rounded coefficients may miss positive semi-definiteness by their last digit. */
const ROUNDING_SLACK = 1e-9;

/**
 * The full correlation matrix of named inputs.
 * Source: GUM 5.2.2, C.3.6. Refuses: a name that is not there, a coefficient outside -1 to 1, a pair given twice, or
 * coefficients that cannot all hold at once (BUDGET_CORRELATION).
 */
export function correlationMatrix(
  names: readonly string[],
  pairs: readonly CorrelationPair[],
): CorrelationMatrix | Refusal<'BUDGET_CORRELATION'> {
  const rows = names.map((_, i): number[] => names.map((__, j) => (i === j ? 1 : 0)));
  const seen = new Set<string>();
  for (const { between, coefficient } of pairs) {
    const [i, j] = between.map((name) => names.indexOf(name));
    const wrong = (what: 'no-such-name' | 'with-itself' | 'coefficient' | 'twice') =>
      refuse('BUDGET_CORRELATION', { between, wrong: what, coefficient });
    if (i! < 0 || j! < 0) return wrong('no-such-name');
    if (i === j) return wrong('with-itself');
    if (!(Math.abs(coefficient) <= 1)) return wrong('coefficient');
    const key = [i, j].sort().join(',');
    if (seen.has(key)) return wrong('twice');
    seen.add(key);
    rows[i!]![j!] = coefficient;
    rows[j!]![i!] = coefficient;
  }
  const factor = semidefiniteFactor(rows);
  if (factor === undefined) return refuse('BUDGET_CORRELATION', { wrong: 'not-together' });
  return { kind: 'correlation-matrix', rows, factor };
}

/**
 * Lower triangular factor that also serves a coefficient of exactly 1, where the usual factor would divide by zero.
 * Source: Cholesky's algorithm, zero pivots kept as zero columns (Higham, Accuracy and Stability, 10.3, from memory).
 */
function semidefiniteFactor(rows: readonly (readonly number[])[]): number[][] | undefined {
  const size = rows.length;
  const factor = rows.map(() => new Array<number>(size).fill(0));
  for (let j = 0; j < size; j += 1) {
    const pivot = rows[j]![j]! - squares(factor[j]!, j);
    if (pivot < -ROUNDING_SLACK) return undefined;
    const root = pivot > ROUNDING_SLACK ? Math.sqrt(pivot) : 0;
    factor[j]![j] = root;
    for (let i = j + 1; i < size; i += 1) {
      const rest = rows[i]![j]! - products(factor[i]!, factor[j]!, j);
      if (root === 0 && Math.abs(rest) > Math.sqrt(ROUNDING_SLACK)) return undefined;
      factor[i]![j] = root === 0 ? 0 : rest / root;
    }
  }
  return factor;
}

const products = (one: readonly number[], other: readonly number[], count: number): number => {
  let sum = 0;
  for (let k = 0; k < count; k += 1) sum += one[k]! * other[k]!;
  return sum;
};
const squares = (row: readonly number[], count: number): number => products(row, row, count);
