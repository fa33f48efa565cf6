/** Reads a netlist file as a board program would: an s-expression, and nothing known of who wrote it. */

export type Expression = string | readonly Expression[];

/** The first expression of a text. Throws for one that does not end. */
export function expressionOf(text: string): Expression {
  const tokens = text.match(/"(?:[^"\\]|\\.)*"|[()]|[^\s()"]+/g) ?? [];
  let at = 0;
  const next = (): Expression => {
    const token = tokens[at];
    at += 1;
    if (token === undefined) throw new Error('the netlist ends too early');
    if (token !== '(') return token.startsWith('"') ? token.slice(1, -1).replace(/\\(.)/g, '$1') : token;
    const list: Expression[] = [];
    while (tokens[at] !== ')') list.push(next());
    at += 1;
    return list;
  };
  return next();
}

const listsIn = (expression: Expression, head: string): (readonly Expression[])[] =>
  typeof expression === 'string'
    ? []
    : expression.flatMap((item) => (typeof item !== 'string' && item[0] === head ? [item] : []));

const wordIn = (expression: Expression, head: string): string => {
  const word = listsIn(expression, head)[0]?.[1];
  return typeof word === 'string' ? word : '';
};

export type FilePin = {
  readonly ref: string;
  readonly pin: string;
  readonly name: string;
  readonly type: string;
};
export type FilePart = {
  readonly ref: string;
  readonly value: string;
  readonly footprint: string;
  readonly place: string;
};
export type NetlistFile = {
  readonly parts: readonly FilePart[];
  readonly nets: readonly { readonly name: string; readonly pins: readonly FilePin[] }[];
};

/** Parts and nets of a netlist file. */
export function readNetlist(text: string): NetlistFile {
  const root = expressionOf(text);
  const parts = listsIn(root, 'components').flatMap((components) =>
    listsIn(components, 'comp').map((comp) => ({
      ref: wordIn(comp, 'ref'),
      value: wordIn(comp, 'value'),
      footprint: wordIn(comp, 'footprint'),
      place: wordIn(
        listsIn(comp, 'property').find((each) => wordIn(each, 'name') === 'place') ?? [],
        'value',
      ),
    })),
  );
  const nets = listsIn(root, 'nets').flatMap((all) =>
    listsIn(all, 'net').map((net) => ({
      name: wordIn(net, 'name'),
      pins: listsIn(net, 'node').map((node) => ({
        ref: wordIn(node, 'ref'),
        pin: wordIn(node, 'pin'),
        name: wordIn(node, 'pinfunction'),
        type: wordIn(node, 'pintype'),
      })),
    })),
  );
  return { parts, nets };
}

/** Ohm or farad of '8.2 kΩ', '820 kΩ', '1 µF', '1 nF'; NaN for anything else. */
export function valueIn(text: string): number {
  const match = /^([\d.]+) ?([kMµn]?)(?:Ω|F)$/.exec(text);
  const factor = { k: 1e3, M: 1e6, µ: 1e-6, n: 1e-9 }[match?.[2] ?? ''] ?? 1;
  return match === null ? NaN : Number(match[1]) * factor;
}
