import { BOARDS, COLUMNS, ROWS, keyOf, type Spot, type StripDocument } from './strip-document';

/** What the copper of the strip boards joins: runs of strip, links and wires between them, and the leads that stand in them. */

export type Run = {
  readonly board: string;
  readonly row: number;
  readonly from: number;
  readonly to: number;
};

/** Unbroken pieces of strip. */
export function runsOf({ gone }: StripDocument): Run[] {
  const broken = new Set(gone.map(keyOf));
  const runs: Run[] = [];
  for (const board of BOARDS)
    for (let row = 0; row < ROWS; row += 1) {
      let from = 0;
      for (let column = 0; column <= COLUMNS; column += 1) {
        if (column < COLUMNS && !broken.has(keyOf({ board, row, column }))) continue;
        if (column > from) runs.push({ board, row, from, to: column - 1 });
        from = column + 1;
      }
    }
  return runs;
}

const holds = (run: Run, { board, row, column }: Spot): boolean =>
  run.board === board && run.row === row && run.from <= column && column <= run.to;

export type Copper = {
  readonly runs: readonly Run[];
  /** Number of the node a run belongs to. */
  readonly nodeOf: readonly number[];
  /** Leads by node, as 'R101.1'. A lead on no copper has a node of its own. */
  readonly nets: readonly (readonly string[])[];
};

/** Nodes of a document: union of strips less cuts, links, wires. `without`: joins that are left out. */
export function copperOf(document: StripDocument, without: (what: string) => boolean = () => false): Copper {
  const runs = runsOf(document);
  const parent = runs.map((_, index) => index);
  const top = (index: number): number => {
    let at = index;
    while (parent[at] !== at) at = parent[at] ?? at;
    return at;
  };
  const runAt = (spot: Spot): number => runs.findIndex((run) => holds(run, spot));
  for (const { what, from, to } of document.joins) {
    if (without(what)) continue;
    const [one, two] = [runAt(from), runAt(to)];
    if (one >= 0 && two >= 0) parent[top(one)] = top(two);
  }
  const nets = new Map<string, string[]>();
  for (const { ref, pin, spot } of document.leads) {
    const run = runAt(spot);
    const node = run < 0 ? `air ${ref}.${pin}` : String(top(run));
    nets.set(node, [...(nets.get(node) ?? []), `${ref}.${pin}`]);
  }
  return { runs, nodeOf: runs.map((_, index) => top(index)), nets: [...nets.values()] };
}
