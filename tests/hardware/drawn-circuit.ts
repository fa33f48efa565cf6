import type { Sheet } from '../../hardware-notes/draw/sheet';

/**
 * Reads drawings as a person does: conductors that meet are one, crossings without a dot are not, and a name is the same
 * conductor wherever it stands. It knows nothing of the circuit's data.
 */

type Point = readonly [x: number, y: number];

/** Terminals drawn together, 'U3 OUTa', and the names that stand beside them. */
export type DrawnNet = { readonly terminals: readonly string[]; readonly names: readonly string[] };

const NEAR = 1.5;

const isOn = ([x, y]: Point, [[ax, ay], [bx, by]]: readonly [Point, Point]): boolean => {
  const length = Math.hypot(bx - ax, by - ay);
  if (length < NEAR) return Math.hypot(x - ax, y - ay) < NEAR;
  const along = ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / length;
  const off = Math.abs((x - ax) * (by - ay) - (y - ay) * (bx - ax)) / length;
  return off < NEAR && along > -NEAR && along < length + NEAR;
};

class Groups {
  readonly #parent = new Map<string, string>();

  top(item: string): string {
    let at = item;
    for (let up = this.#parent.get(at); up !== undefined; up = this.#parent.get(at)) at = up;
    return at;
  }

  join(one: string, two: string): void {
    const [a, b] = [this.top(one), this.top(two)];
    if (a !== b) this.#parent.set(a, b);
  }
}

type Labelled = { readonly key: string; readonly at: Point };

function joinSheet(groups: Groups, index: number, sheet: Sheet, labelled: readonly Labelled[]): void {
  const wires = sheet.wires.map((points, place) => ({ key: `wire ${index}.${place}`, points }));
  const segments = wires.flatMap(({ key, points }) =>
    points.slice(1).map((to, place) => ({ key, ends: [points[place] ?? to, to] as const })),
  );
  // Ends of wires, terminals and names join whatever lies under them; a dot joins all that pass through it.
  const free = wires.flatMap(({ key, points }) =>
    [points[0], points.at(-1)].flatMap((at) => (at ? [{ key, at }] : [])),
  );
  const dots = sheet.joints.map((at, place) => ({ key: `dot ${index}.${place}`, at }));
  const places = [...free, ...dots, ...labelled];
  for (const { key, at } of places)
    for (const segment of segments) if (isOn(at, segment.ends)) groups.join(key, segment.key);
  for (const one of labelled)
    for (const two of labelled)
      if (Math.hypot(one.at[0] - two.at[0], one.at[1] - two.at[1]) < NEAR) groups.join(one.key, two.key);
}

/** Nets of several sheets taken together. */
export function drawnNets(sheets: readonly Sheet[]): DrawnNet[] {
  const groups = new Groups();
  const terminals = new Set<string>();
  const names = new Set<string>();
  sheets.forEach((sheet, index) => {
    const ends = sheet.ends.map(({ part, terminal, at }) => ({ key: `${part} ${terminal}`, at }));
    const labels = sheet.names.map(({ net, at }) => ({ key: `net ${net}`, at }));
    for (const { key } of ends) terminals.add(key);
    for (const { key } of labels) names.add(key);
    joinSheet(groups, index, sheet, [...ends, ...labels]);
  });
  const found = new Map<string, { terminals: string[]; names: string[] }>();
  const at = (key: string): { terminals: string[]; names: string[] } => {
    const top = groups.top(key);
    const net = found.get(top) ?? { terminals: [], names: [] };
    found.set(top, net);
    return net;
  };
  for (const key of terminals) at(key).terminals.push(key);
  for (const key of names) at(key).names.push(key.slice('net '.length));
  return [...found.values()];
}
