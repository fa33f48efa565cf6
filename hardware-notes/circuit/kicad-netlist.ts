import type { Component, TerminalKind } from './component';
import { netsOf } from './circuit';

/**
 * The circuit as a netlist in the s-expression form that a widely used free board program exports and imports (KiCad,
 * version E of the format, described in its public documentation). Names of nets and parts are ours.
 */

const pinTypes: Readonly<Record<TerminalKind, string>> = {
  passive: 'passive',
  input: 'input',
  output: 'output',
  'open drain': 'open_collector',
  'both ways': 'bidirectional',
  'supply in': 'power_in',
  'supply out': 'power_out',
  free: 'no_connect',
};

const quoted = (text: string): string => `"${text.replaceAll('\\', '\\\\').replaceAll('"', '\\"')}"`;

/** Box common first, then by name, so that the same circuit always gives the same bytes. */
const inOrder = (one: string, two: string): number => (one < two ? -1 : one > two ? 1 : 0);

function componentText({ reference, value, type, footprint, place }: Component): string {
  const lines = [
    `    (comp (ref ${quoted(reference)})`,
    `      (value ${quoted(value)})`,
    ...(footprint === undefined ? [] : [`      (footprint ${quoted(footprint)})`]),
    `      (libsource (lib "needlewright") (part ${quoted(type ?? value)}) (description ""))`,
    ...(place === 'board' ? [] : ['      (property (name "exclude_from_board"))']),
    `      (property (name "place") (value ${quoted(place)}))`,
  ];
  return `${lines.join('\n')})`;
}

/** The netlist of a circuit as text. */
export function kicadNetlist(components: readonly Component[], title: string): string {
  const nets = [...netsOf(components)].sort(([one], [two]) => inOrder(one, two));
  const typeOf = (reference: string, number: string): string => {
    const component = components.find((each) => each.reference === reference);
    return pinTypes[component?.terminals.find((terminal) => terminal.number === number)?.kind ?? 'passive'];
  };
  const open = components.flatMap(({ reference, terminals, nets: byNumber }) =>
    terminals
      .filter(({ number }) => byNumber[number] === undefined)
      .map(({ number, name }) => ({ reference, number, name })),
  );
  const node = ({ reference, number, name }: (typeof open)[number]): string =>
    `      (node (ref ${quoted(reference)}) (pin ${quoted(number)}) (pinfunction ${quoted(name)}) (pintype ${quoted(typeOf(reference, number))}))`;
  const all = [
    ...nets,
    ...open.map((each) => [`unconnected-(${each.reference}-Pad${each.number})`, [each]] as const),
  ];
  return [
    '(export (version "E")',
    `  (design (source ${quoted(title)}) (tool "hardware-notes/draw/generate.mjs"))`,
    '  (components',
    ...components.map(componentText),
    '  )',
    '  (nets',
    ...all.map(([net, nodes], index) =>
      [`    (net (code "${index + 1}") (name ${quoted(net)})`, ...nodes.map(node)].join('\n').concat(')'),
    ),
    '  )',
    ')',
    '',
  ].join('\n');
}
