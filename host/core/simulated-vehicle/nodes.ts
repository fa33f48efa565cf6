/** Between two nodes, ohm; `emf`: volts that drive current out at `to` and in at `from`, in series with it. */
export type Branch = {
  readonly from: number;
  readonly to: number;
  readonly ohm: number;
  readonly emf?: number;
};
/** Ampere taken out of one node and put into another. */
export type Injection = { readonly from: number; readonly to: number; readonly amp: number };

/** What holds a node that nothing else holds, siemens: an insulation. */
const LEAST_SIEMENS = 1e-9;

/**
 * Volts of every node above node 0 in a circuit of resistances, sources behind resistances and currents.
 * Source: Kirchhoff's current law at each node; Gaussian elimination with partial pivoting.
 */
export function nodeVolts(
  count: number,
  branches: readonly Branch[],
  injections: readonly Injection[] = [],
): readonly number[] {
  const size = count - 1;
  const rows = Array.from({ length: size }, (_, at) => {
    const row = new Float64Array(size + 1);
    row[at] = LEAST_SIEMENS;
    return row;
  });
  const add = (node: number, column: number, siemens: number): void => {
    if (node > 0 && column > 0) rows[node - 1]![column - 1]! += siemens;
  };
  const feed = (node: number, amp: number): void => {
    if (node > 0) rows[node - 1]![size]! += amp;
  };
  for (const { from, to, ohm, emf = 0 } of branches) {
    const siemens = 1 / ohm;
    add(from, from, siemens);
    add(to, to, siemens);
    add(from, to, -siemens);
    add(to, from, -siemens);
    feed(to, emf * siemens);
    feed(from, -emf * siemens);
  }
  for (const { from, to, amp } of injections) {
    feed(from, -amp);
    feed(to, amp);
  }
  return [0, ...eliminated(rows, size)];
}

function eliminated(rows: Float64Array[], size: number): readonly number[] {
  for (let column = 0; column < size; column += 1) {
    let pivot = column;
    for (let row = column + 1; row < size; row += 1)
      if (Math.abs(rows[row]![column]!) > Math.abs(rows[pivot]![column]!)) pivot = row;
    [rows[column], rows[pivot]] = [rows[pivot]!, rows[column]!];
    const top = rows[column]!;
    for (let row = column + 1; row < size; row += 1) {
      const below = rows[row]!;
      const factor = below[column]! / top[column]!;
      if (factor === 0) continue;
      for (let at = column; at <= size; at += 1) below[at]! -= factor * top[at]!;
    }
  }
  const volts = new Array<number>(size).fill(0);
  for (let row = size - 1; row >= 0; row -= 1) {
    let sum = rows[row]![size]!;
    for (let at = row + 1; at < size; at += 1) sum -= rows[row]![at]! * volts[at]!;
    volts[row] = sum / rows[row]![row]!;
  }
  return volts;
}
