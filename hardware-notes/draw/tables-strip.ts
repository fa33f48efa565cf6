import { COMMON } from '../../firmware-ts/board/netlist';
import { circuit } from '../circuit/circuit';
import { holeName, type Hole, type StripBoard } from '../strip-board/board';
import { stripBoards } from '../strip-board/boards';
import { table, type Row } from './format';
import { isHeavy } from './sheet-strip';

/** What a builder ticks off: cuts, links, parts, wires, hole by hole. */

const HEAVY = '0.75 mm²';
const LIGHT = '0.25 mm²';
const netText = (net: string): string => (net === COMMON ? 'box common' : net);
const wireText = (net: string): string => (isHeavy(net) ? HEAVY : LIGHT);

/** Polarity where it matters, from the names of the terminals. */
function leadText(reference: string, number: string, hole: Hole): string {
  const component = circuit.find((each) => each.reference === reference);
  const name = component?.terminals.find((terminal) => terminal.number === number)?.name ?? number;
  if (/^C(52|9[0-2])$/.test(reference)) return `${number === '1' ? '+' : '−'} ${holeName(hole)}`;
  const isNamed = name !== number && !/^(U|R34)/.test(reference);
  return `${isNamed ? `${number} ${name}` : number} ${holeName(hole)}`;
}

function partRows({ parts }: StripBoard): Row[] {
  return parts.map(({ reference, terminals }) => {
    const value = circuit.find((each) => each.reference === reference)?.value ?? '100 kΩ network';
    return [
      reference,
      value,
      terminals.map(({ number, hole }) => leadText(reference, number, hole)).join(', '),
    ];
  });
}

function cutText({ cuts, peels }: StripBoard): string {
  const stripped = peels.map(({ from, to }) => `${holeName(from)} to ${holeName(to)}`);
  return [
    `${cuts.length} cuts: ${cuts.map(holeName).join(', ')}.`,
    ...(stripped.length === 0 ? [] : ['', `Strip taken off whole: ${stripped.join('; ')}.`]),
  ].join('\n');
}

const linkTable = ({ links }: StripBoard): string =>
  table(
    ['from', 'to', 'net', 'wire'],
    links.map(({ net, from, to }): Row => [holeName(from), holeName(to), netText(net), wireText(net)]),
  );

function wireTable(): string {
  const ends = stripBoards.flatMap((board) => board.wires.map((end) => ({ ...end, board })));
  const numbers = [...new Set(ends.map(({ wire }) => wire))].sort((one, two) => one - two);
  const rows = numbers.map((wire): Row => {
    const both = ends.filter((end) => end.wire === wire);
    const net = both[0]?.net ?? '';
    return [
      `W${wire}`,
      netText(net),
      ...both.map(({ board, hole }) => `${board.name} ${holeName(hole)}`),
      wireText(net),
    ];
  });
  return table(['wire', 'net', 'from', 'to', 'wire'], rows);
}

/** Where a chip needs something to stand on: its package in the netlist, and what brings it to the holes. */
const carriers: readonly (readonly [footprint: RegExp, what: string])[] = [
  [/TSSOP-14/, 'adapter board TSSOP-14, rows 7.62 mm apart'],
  [/TSSOP-16/, 'adapter board TSSOP-16, rows 7.62 mm apart'],
  [/MSOP-8/, 'adapter board MSOP-8, rows 7.62 mm apart'],
  [/SOIC-8_3\.9/, 'adapter board SO-8, rows 7.62 mm apart'],
  [/SOIC-8_7\.5/, 'adapter board wide SO-8, rows 15.24 mm apart, no copper between them'],
  [/SOT-23$/, 'carrier SOT-23, three pins in a row'],
  [/DIP-14/, 'socket DIP-14'],
  [/DIP-16/, 'socket DIP-16'],
];

/** Carriers and sockets of the three boards. */
function carrierTable(): string {
  const onBoards = stripBoards.flatMap(({ parts }) => parts.map(({ reference }) => reference));
  const rows = carriers.map(([pattern, what]): Row => {
    const chips = circuit
      .filter(({ reference, footprint }) => onBoards.includes(reference) && pattern.test(footprint ?? ''))
      .map(({ reference }) => reference);
    // The resistor network is one chip of four parts.
    const names = /MSOP/.test(what) ? [...chips, 'R34 to R37'] : chips;
    return [what, names.length, names.join(', ')];
  });
  return table(['what', 'number', 'for'], rows);
}

/** How much work it is. */
function countTable(): string {
  const rows = stripBoards.map(({ title, parts, links, cuts }): Row => {
    const holes = parts.reduce((sum, { terminals }) => sum + terminals.length, 0);
    return [title, parts.length, holes, links.length, cuts.length];
  });
  return table(['board', 'parts and wires to sockets', 'their leads', 'links', 'cuts'], rows);
}

/** Tables of the strip boards. */
export const stripTables = (): readonly (readonly [string, string])[] => [
  ['strip-count', countTable()],
  ['strip-wires', wireTable()],
  ['strip-carriers', carrierTable()],
  ...stripBoards.flatMap((board): (readonly [string, string])[] => [
    [`strip-${board.name}-cuts`, cutText(board)],
    [`strip-${board.name}-links`, linkTable(board)],
    [`strip-${board.name}-parts`, table(['part', 'value', 'lead and hole'], partRows(board))],
  ]),
];
