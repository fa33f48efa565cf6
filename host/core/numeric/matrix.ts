/** A small dense matrix, row after row: entry (i, j) is `data[i * columns + j]`. */
export type Matrix = {
  readonly rows: number;
  readonly columns: number;
  readonly data: Float64Array;
};

/** A matrix of zeros. Source: definition. */
const zeros = (rows: number, columns: number): Matrix => ({
  rows,
  columns,
  data: new Float64Array(rows * columns),
});

/** A matrix from its rows; short rows are filled with zeros. Source: definition. */
export function matrixFromRows(rows: readonly (readonly number[])[]): Matrix {
  const matrix = zeros(rows.length, rows[0]?.length ?? 0);
  rows.forEach((row, i) => {
    for (let j = 0; j < matrix.columns; j += 1) matrix.data[i * matrix.columns + j] = row[j] ?? 0;
  });
  return matrix;
}

/** g' M g, the variance of a quantity whose gradient is `gradient`. Source: GUM 5.2.2 equation (13). */
export function quadraticForm(rows: readonly (readonly number[])[], gradient: readonly number[]): number {
  let sum = 0;
  for (const [i, row] of rows.entries()) {
    const gi = gradient[i]!;
    if (gi === 0) continue;
    for (let j = 0; j < row.length; j += 1) sum += gi * row[j]! * gradient[j]!;
  }
  return sum;
}
