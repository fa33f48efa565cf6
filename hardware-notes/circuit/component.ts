/**
 * What a part of the circuit is: its terminals by number and name, and the net that each lies on. Everything that names a
 * pin is made from this: netlist, pin numbers on the drawings, pin tables.
 */

/** What a terminal does, as board programs mean it. `free`: nothing may be soldered to it. */
export type TerminalKind =
  | 'passive'
  | 'input'
  | 'output'
  | 'open drain'
  | 'both ways'
  | 'supply in'
  | 'supply out'
  | 'free';

export type Terminal = {
  /** As printed in the data sheet of the type named in the parts list. */
  readonly number: string;
  readonly name: string;
  readonly kind: TerminalKind;
};

/** Where a part sits: on the board, in a lead (its clip or sleeve), or in the wall of the case. */
export type Place = 'board' | 'lead' | 'case';

export type Component = {
  readonly reference: string;
  readonly value: string;
  /** Type that the numbers of the terminals belong to; undefined: a part with two ends that are alike or marked. */
  readonly type?: string;
  readonly footprint?: string;
  readonly place: Place;
  readonly terminals: readonly Terminal[];
  /** Net of each terminal by its number; a free one has none. */
  readonly nets: Readonly<Record<string, string>>;
};

/** A kind of chip, transistor, relay or connector, before it has a place in the circuit. */
export type Kind = {
  readonly type: string;
  readonly footprint?: string;
  readonly terminals: readonly Terminal[];
};

/** In place of a net: the terminal stays open, and is named so. */
export const UNCONNECTED = '';

const kindLetters: Readonly<Record<string, TerminalKind>> = {
  p: 'passive',
  i: 'input',
  o: 'output',
  d: 'open drain',
  b: 'both ways',
  s: 'supply in',
  w: 'supply out',
  n: 'free',
};

/** Terminals from '1 OUTA o, 2 INA− i': number, name, letter of its kind. Throws for a letter it does not know. */
export function terminals(list: string): Terminal[] {
  return list.split(', ').map((item) => {
    const parts = item.split(' ');
    const kind = kindLetters[parts.at(-1) ?? ''];
    if (kind === undefined || parts.length < 3) throw new Error(`no terminal: ${item}`);
    return { number: parts[0] ?? '', name: parts.slice(1, -1).join(' '), kind };
  });
}

/** A part of a kind in the circuit; nets by the names of its terminals. Throws for a name it lacks or leaves out. */
export function placed(
  reference: string,
  kind: Kind,
  nets: Readonly<Record<string, string>>,
  place: Place = 'board',
): Component {
  const byNumber: Record<string, string> = {};
  for (const [name, net] of Object.entries(nets)) {
    const same = kind.terminals.filter((terminal) => terminal.name === name);
    if (same.length === 0) throw new Error(`${reference} (${kind.type}) has no terminal ${name}`);
    for (const { number } of same) byNumber[number] = net;
  }
  const left = kind.terminals.filter(
    ({ number, kind: of }) => of !== 'free' && byNumber[number] === undefined,
  );
  if (left.length > 0) throw new Error(`${reference}: no net for ${left.map(({ name }) => name).join(', ')}`);
  const open = kind.terminals.filter(({ number }) => byNumber[number] === UNCONNECTED);
  for (const { number } of open) delete byNumber[number];
  const { type, footprint } = kind;
  return {
    reference,
    value: type,
    type,
    ...(footprint === undefined ? {} : { footprint }),
    place,
    terminals: kind.terminals.map((terminal) =>
      open.includes(terminal) ? { ...terminal, kind: 'free' } : terminal,
    ),
    nets: byNumber,
  };
}

const ends = terminals('1 1 p, 2 2 p');
const diodeEnds = terminals('1 K p, 2 A p');
const electrolyticEnds = terminals('1 + p, 2 − p');

/** A part of two ends that are alike. */
export const twoEnds = (
  reference: string,
  value: string,
  [from, to]: readonly [string, string],
  footprint?: string,
): Component => ({
  reference,
  value,
  ...(footprint === undefined ? {} : { footprint }),
  place: 'board',
  terminals: ends,
  nets: { 1: from, 2: to },
});

/** An electrolytic capacitor, from plus to minus. */
export const electrolytic = (
  reference: string,
  value: string,
  [plus, minus]: readonly [string, string],
  footprint: string,
): Component => ({ ...twoEnds(reference, value, [plus, minus], footprint), terminals: electrolyticEnds });

/** The same part in a lead instead of on the board. */
export const inLead = (component: Component): Component => ({ ...component, place: 'lead' });

/** A diode, from anode to cathode. */
export const diode = (
  reference: string,
  value: string,
  [anode, cathode]: readonly [string, string],
  footprint = 'Diode_THT:D_DO-35_SOD27_P7.62mm_Horizontal',
): Component => ({
  reference,
  value,
  footprint,
  place: 'board',
  terminals: diodeEnds,
  nets: { 1: cathode, 2: anode },
});
