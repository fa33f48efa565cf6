import { drawSchematics } from '../../hardware-notes/draw/drawings';
import { drawnNets, type DrawnNet } from './drawn-circuit';
import type { FilePin, NetlistFile } from './netlist-file';

/**
 * The netlist file held against the drawings. A part with two ends that are alike may lie either way round, so the names
 * of drawn nets spread from what is marked: names on the sheet, pins of chips, ends of diodes.
 */

const RELAYS = 16;
/** Drawn in one with another part. */
const drawnWith: Readonly<Record<string, string>> = { R16B: 'R16A', C94: 'C91' };
/** In the table of plugs and in the list of bypass capacitors instead of on a sheet. */
const isListed = (ref: string): boolean => /^(J[1-6]|C1\d\d|NT1)$/.test(ref);

/** The driver that is drawn once stands for sixteen. */
function expanded(net: DrawnNet): DrawnNet[] {
  const isSample = (text: string): boolean => text.includes('…');
  if (![...net.terminals, ...net.names].some(isSample)) return [net];
  const own = net.terminals.filter((terminal) => !isSample(terminal));
  const names = net.names.filter((name) => !isSample(name));
  const copies = Array.from({ length: RELAYS }, (_, index) => {
    const relay = index + 1;
    const copy = (text: string): string =>
      text
        .replace(/^R(1[02])1…/, (_all, row: string) => `R${Number(row) * 10 + relay}`)
        .replace(/^Q1 … Q16/, `Q${relay}`)
        .replace(/^K1 … K16/, `K${relay}`)
        .replace(/^D2 … D17/, `D${relay + 1}`)
        .replace(/^DRIVE-K1 … DRIVE-K16$/, `DRIVE-K${relay}`);
    // "(K16: OUTPUT-RAIL)", as the sheet says beside the flag.
    const rail = relay === RELAYS ? names.map((name) => name.replace('CHAIN-RAIL', 'OUTPUT-RAIL')) : names;
    return {
      terminals: net.terminals.filter(isSample).map(copy),
      names: [
        ...rail,
        ...net.names.filter(isSample).map(copy),
        // "drain of Q16", as the sheet says beside the lamp.
        ...(net.terminals.includes('Q1 … Q16 D') ? [`COIL-K${relay}`] : []),
      ],
    };
  });
  return [{ terminals: own, names }, ...copies];
}

/** One net for each name, taken together over all sheets. */
function merged(nets: readonly DrawnNet[]): DrawnNet[] {
  const alone = nets.filter(({ names }) => names.length === 0);
  const named = new Map<string, string[]>();
  for (const { terminals, names } of nets)
    if (names[0] !== undefined) {
      const name = joinedNet(names[0]);
      named.set(name, [...(named.get(name) ?? []), ...terminals]);
    }
  return [...alone, ...[...named].map(([name, terminals]) => ({ names: [name], terminals }))];
}

type Ends = ReadonlyMap<string, readonly (FilePin & { readonly net: string })[]>;

function endsByPart(file: NetlistFile): Ends {
  const ends = new Map<string, (FilePin & { net: string })[]>();
  for (const { name, pins } of file.nets)
    for (const pin of pins) ends.set(pin.ref, [...(ends.get(pin.ref) ?? []), { ...pin, net: name }]);
  return ends;
}

const partOf = (terminal: string): string => terminal.slice(0, terminal.indexOf(' '));
const nameOf = (terminal: string): string => terminal.slice(terminal.indexOf(' ') + 1);

/** Parts whose two ends look alike on a sheet: resistors, capacitors, two-way suppressors, contacts. */
const isAlike = (name: string): boolean => ['1', '2', 'COM', 'MAKE'].includes(name);

/** Net of the file that a drawn terminal belongs to, when its name tells. */
function netOf(ends: Ends, terminal: string): string[] {
  const name = nameOf(terminal);
  return [
    ...new Set((ends.get(partOf(terminal)) ?? []).filter((pin) => pin.name === name).map(({ net }) => net)),
  ];
}

/** The joint at the foot of the shunt is one conductor on a sheet. */
const joinedNet = (name: string): string => (name === 'SHUNT-' ? 'COMMON' : name);

const joined = ({ parts, nets }: NetlistFile): NetlistFile => ({
  parts,
  nets: nets.map(({ name, pins }) => ({ name: joinedNet(name), pins })),
});

/** Read once: the drawings do not change while a test runs. */
const sheets = merged(drawnNets(drawSchematics()).flatMap(expanded)).filter(
  ({ terminals }) => terminals.length > 0,
);

/** What the drawings and a netlist file do not say alike, as sentences. */
export function differences(listed: NetlistFile): string[] {
  const file = joined(listed);
  const ends = endsByPart(file);
  const drawn = sheets;
  const names = drawn.map(({ names: [name] }) => name);
  const troubles: string[] = [];
  drawn.forEach(({ terminals }, index) => {
    for (const terminal of terminals.filter((each) => !isAlike(nameOf(each)))) {
      const [net, ...more] = netOf(ends, terminal);
      if (net === undefined || more.length > 0)
        troubles.push(`${terminal} is drawn and not in the netlist once`);
      else if (names[index] === undefined) names[index] = net;
      else if (names[index] !== net)
        troubles.push(`${terminal} is drawn at ${names[index] ?? ''}, listed at ${net}`);
    }
  });
  const place = (terminal: string): number =>
    drawn.findIndex(({ terminals }) => terminals.includes(terminal));
  const alike = [
    ...new Set(
      drawn.flatMap(({ terminals }) => terminals.filter((each) => isAlike(nameOf(each))).map(partOf)),
    ),
  ];
  for (let left = alike, grew = true; grew; left = alike) {
    grew = false;
    for (const part of left) {
      const inFile = [
        ...new Set((ends.get(part) ?? []).filter(({ name }) => isAlike(name)).map(({ net }) => net)),
      ];
      const [a, b] = (ends.get(part) ?? []).some(({ name }) => name === 'COM') ? ['COM', 'MAKE'] : ['1', '2'];
      const at = [place(`${part} ${a ?? ''}`), place(`${part} ${b ?? ''}`)] as const;
      for (const [here, there] of [at, [at[1], at[0]] as const]) {
        const name = names[here];
        const other = inFile.find((net) => net !== name);
        if (name === undefined || other === undefined || !inFile.includes(name) || names[there] !== undefined)
          continue;
        names[there] = other;
        grew = true;
      }
    }
  }
  for (const part of alike) {
    const inFile = (ends.get(part) ?? []).filter(({ name }) => isAlike(name)).map(({ net }) => net);
    const shown = drawn.flatMap(({ terminals }, index) =>
      terminals
        .filter((terminal) => partOf(terminal) === part && isAlike(nameOf(terminal)))
        .map(() => names[index] ?? '?'),
    );
    if ([...new Set(inFile)].sort().join() !== [...new Set(shown)].sort().join())
      troubles.push(
        `${part} is drawn between ${shown.join(' and ')}, listed between ${inFile.join(' and ')}`,
      );
  }
  // Two drawn nets with one name in the file would be a wire that is missing on the sheet.
  names.forEach((name, index) => {
    if (name !== undefined && names.indexOf(name) !== index) troubles.push(`${name} is drawn in two pieces`);
  });
  return [...troubles, ...undrawn(file, drawn)];
}

/** Parts and pins of the file that no sheet shows, supply pins and what is listed elsewhere apart. */
function undrawn(file: NetlistFile, drawn: readonly DrawnNet[]): string[] {
  const shown = new Set(drawn.flatMap(({ terminals }) => terminals));
  return file.nets.flatMap(({ pins }) =>
    pins
      .filter(
        ({ ref, type }) =>
          !isListed(ref) && drawnWith[ref] === undefined && type !== 'no_connect' && type !== 'power_in',
      )
      .filter(({ ref, name }) => !shown.has(`${ref} ${name}`))
      .map(({ ref, name }) => `${ref} ${name} is in the netlist and on no sheet`),
  );
}
