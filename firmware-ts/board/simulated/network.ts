import { COMMON } from '../netlist';

type Branch = { readonly from: string; readonly to: string; readonly siemens: number; readonly volt: number };
type Injection = { readonly to: string; readonly amp: number };

/**
 * A network of resistors, voltages behind a resistance and currents, solved by its node equations.
 * Source: Kirchhoff's current law at every node, voltages counted from box common. Every node needs some way to common.
 */
export class Network {
  readonly #branches: Branch[] = [];
  readonly #injections: Injection[] = [];

  resistor(from: string, to: string, ohm: number): this {
    return this.source(from, to, { volt: 0, ohm });
  }

  /** `from` is `volt` above `to` when nothing flows; behind it `ohm`. */
  source(from: string, to: string, { volt, ohm }: { readonly volt: number; readonly ohm: number }): this {
    this.#branches.push({ from, to, siemens: 1 / ohm, volt });
    return this;
  }

  /** A current out of common into a node, ampere. */
  current(to: string, amp: number): this {
    this.#injections.push({ to, amp });
    return this;
  }

  /** Voltage of a node by its name. Throws for a node that has no way to common. */
  solve(): (node: string) => number {
    const indices = new Map<string, number>();
    for (const { from, to } of this.#branches)
      for (const node of [from, to])
        if (node !== COMMON && !indices.has(node)) indices.set(node, indices.size);
    const rows = Array.from({ length: indices.size }, () => new Float64Array(indices.size + 1));
    for (const { from, to, siemens, volt } of this.#branches) {
      stamp(rows, [indices.get(from), indices.get(to)], siemens, siemens * volt);
    }
    for (const { to, amp } of this.#injections) {
      const row = rows[indices.get(to) ?? -1];
      if (row !== undefined) row[indices.size]! += amp;
    }
    const volts = eliminated(rows);
    return (node) => (node === COMMON ? 0 : (volts[indices.get(node) ?? -1] ?? NaN));
  }
}

function stamp(
  rows: readonly Float64Array[],
  [from, to]: readonly [number | undefined, number | undefined],
  siemens: number,
  amp: number,
): void {
  const last = rows.length;
  for (const [near, far, sign] of [
    [from, to, 1],
    [to, from, -1],
  ] as const) {
    if (near === undefined) continue;
    const row = rows[near]!;
    row[near]! += siemens;
    if (far !== undefined) row[far]! -= siemens;
    row[last]! += sign * amp;
  }
}

/** Gauss's elimination with the largest pivot of each column. */
function eliminated(rows: Float64Array[]): number[] {
  const size = rows.length;
  for (let column = 0; column < size; column += 1) {
    let best = column;
    for (let row = column + 1; row < size; row += 1)
      if (Math.abs(rows[row]![column]!) > Math.abs(rows[best]![column]!)) best = row;
    [rows[column], rows[best]] = [rows[best]!, rows[column]!];
    const pivot = rows[column]!;
    if (!(Math.abs(pivot[column]!) > 0)) throw new Error('network: a node has no way to common');
    for (let row = column + 1; row < size; row += 1) {
      const factor = rows[row]![column]! / pivot[column]!;
      if (factor === 0) continue;
      for (let index = column; index <= size; index += 1) rows[row]![index]! -= factor * pivot[index]!;
    }
  }
  const volts: number[] = new Array<number>(size).fill(0);
  for (let row = size - 1; row >= 0; row -= 1) {
    let sum = rows[row]![size]!;
    for (let index = row + 1; index < size; index += 1) sum -= rows[row]![index]! * volts[index]!;
    volts[row] = sum / rows[row]![row]!;
  }
  return volts;
}
