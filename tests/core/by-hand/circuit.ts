/** A resistor between two nodes; node 0 is ground. */
export type Branch = { readonly from: number; readonly to: number; readonly ohm: number };

/**
 * Node voltages of a network of resistors with one source from ground to the last node, by nodal analysis: Kirchhoff's
 * current law in siemens, solved by Gauss elimination. It knows nothing of series and parallel.
 */
export function nodeVolts(branches: readonly Branch[], nodes: number, sourceVolt: number): number[] {
  const free = nodes - 2;
  const rows = Array.from({ length: free }, (_, row) => {
    const node = row + 1;
    const line = new Array<number>(free + 1).fill(0);
    for (const { from, to, ohm } of branches) {
      if (from !== node && to !== node) continue;
      const other = from === node ? to : from;
      line[row]! += 1 / ohm;
      if (other === nodes - 1) line[free]! += sourceVolt / ohm;
      else if (other > 0) line[other - 1]! -= 1 / ohm;
    }
    return line;
  });
  for (let at = 0; at < free; at += 1) {
    const pivot = rows
      .slice(at)
      .reduce((best, row) => (Math.abs(row[at]!) > Math.abs(best[at]!) ? row : best));
    const where = rows.indexOf(pivot);
    [rows[at], rows[where]] = [pivot, rows[at]!];
    for (const row of rows)
      if (row !== pivot) {
        const factor = row[at]! / pivot[at]!;
        for (let column = at; column <= free; column += 1) row[column]! -= factor * pivot[column]!;
      }
  }
  return [0, ...rows.map((row, at) => row[free]! / row[at]!), sourceVolt];
}

/** A gauge on its feed (the last node) into node 1, and pieces from node 1 to ground, one after the other or side by side. */
export function onGauge(
  { volt, gaugeOhm }: { readonly volt: number; readonly gaugeOhm: number },
  ohms: readonly number[],
  joint: 'series' | 'parallel',
): { readonly wireVolt: number; readonly amp: number; readonly watts: readonly number[] } {
  const inner = joint === 'series' ? ohms.length : 1;
  const nodes = inner + 2;
  const pieces: Branch[] = ohms.map((ohm, at) =>
    joint === 'series'
      ? { from: at + 1, to: at + 1 === ohms.length ? 0 : at + 2, ohm }
      : { from: 1, to: 0, ohm },
  );
  const volts = nodeVolts([{ from: nodes - 1, to: 1, ohm: gaugeOhm }, ...pieces], nodes, volt);
  return {
    wireVolt: volts[1]!,
    amp: (volt - volts[1]!) / gaugeOhm,
    watts: pieces.map(({ from, to, ohm }) => (volts[from]! - volts[to]!) ** 2 / ohm),
  };
}
