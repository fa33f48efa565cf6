import type { NetlistFile } from './netlist-file';
import { copperOf, type Copper, type Run } from './strip-copper';
import { keyOf, type Spot, type StripDocument } from './strip-document';

/** What must hold of the strip boards whoever drew them; answers with sentences, none is right. */

const PITCH_MM = 2.54;
/** Strip of the usual board: 2.54 mm less the groove. Source: common practice, no source; measure yours. */
const STRIP_MM = 2.0;
const DRILL_MM = 4;
const BARRIER_MM = 8;

/** Clips, fuses and resistors of the leads are not on a board; the module U12 holds J6. */
const isOnBoards = (ref: string, place: string): boolean =>
  place === 'board' || (place === 'case' && ref !== 'J6');
/** Inside the module. */
const moduleNets = /^J6 /;

/** Nets of the file as sets of leads that the boards must join. */
function wantedNets({ parts, nets }: NetlistFile): { name: string; leads: string[] }[] {
  const places = new Map(parts.map(({ ref, place }) => [ref, place]));
  return nets
    .filter(({ name }) => !moduleNets.test(name))
    .map(({ name, pins }) => ({
      name,
      leads: pins
        .filter(({ ref }) => isOnBoards(ref, places.get(ref) ?? ''))
        // A free pole of a plug needs no hole.
        .filter(({ ref, type }) => !(ref.startsWith('J') && type === 'no_connect'))
        .map(({ ref, pin }) => `${ref}.${pin}`),
    }))
    .filter(({ leads }) => leads.length > 0);
}

/** Where the copper says other than the netlist. */
export function wiringTroubles(document: StripDocument, file: NetlistFile): string[] {
  const { nets } = copperOf(document);
  const nodeOf = new Map(nets.flatMap((leads, node) => leads.map((lead) => [lead, node] as const)));
  const wanted = wantedNets(file);
  const netOf = new Map(wanted.flatMap(({ name, leads }) => leads.map((lead) => [lead, name] as const)));
  const missing = [...netOf.keys()].filter((lead) => !nodeOf.has(lead)).map((lead) => `${lead} has no hole`);
  const strange = [...nodeOf.keys()].filter((lead) => !netOf.has(lead)).map((lead) => `${lead} is no lead`);
  const torn = wanted.flatMap(({ name, leads }) => {
    const nodes = new Map<number, string[]>();
    for (const lead of leads) {
      const node = nodeOf.get(lead);
      if (node !== undefined) nodes.set(node, [...(nodes.get(node) ?? []), lead]);
    }
    return nodes.size > 1
      ? [`${name} is torn: ${[...nodes.values()].map((each) => each.join(' ')).join(' | ')}`]
      : [];
  });
  const shorted = nets.flatMap((leads) => {
    const names = [...new Set(leads.map((lead) => netOf.get(lead) ?? '?'))];
    return names.length > 1 ? [`${names.join(' and ')} are one`] : [];
  });
  return [...missing, ...strange, ...torn, ...shorted];
}

/** Holes with two things in them, and leads, links or wires where there is no copper. */
export function holeTroubles(document: StripDocument): string[] {
  const gone = new Set(document.gone.map(keyOf));
  const things: [string, Spot][] = [
    ...document.leads.map(({ ref, pin, spot }): [string, Spot] => [`${ref}.${pin}`, spot]),
    ...document.joins.flatMap(({ what, from, to }): [string, Spot][] => [
      [what, from],
      [what, to],
    ]),
  ];
  const seen = new Map<string, string>();
  return things.flatMap(([what, spot]) => {
    const key = keyOf(spot);
    const other = seen.get(key);
    seen.set(key, what);
    const twice = other === undefined ? [] : [`${what} and ${other} in one hole`];
    // U15 stands across the barrier with two legs that must stay free.
    const isAir = gone.has(key) && what !== 'U15.3' && what !== 'U15.5';
    return [...twice, ...(isAir ? [`${what} where the copper is gone`] : [])];
  });
}

type Rectangle = {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
};

/** A run's copper, mm: it ends at the edge of a drilled hole, or half way to a hole whose strip was taken off. */
function copperRectangle({ board, row, from, to }: Run, cuts: ReadonlySet<string>): Rectangle {
  const beyond = (column: number): number =>
    cuts.has(keyOf({ board, row, column })) ? PITCH_MM - DRILL_MM / 2 : PITCH_MM / 2;
  return {
    left: from * PITCH_MM - beyond(from - 1),
    right: to * PITCH_MM + beyond(to + 1),
    top: row * PITCH_MM - STRIP_MM / 2,
    bottom: row * PITCH_MM + STRIP_MM / 2,
  };
}

const distanceMm = (one: Rectangle, two: Rectangle): number =>
  Math.hypot(
    Math.max(0, one.left - two.right, two.left - one.right),
    Math.max(0, one.top - two.bottom, two.top - one.bottom),
  );

const sideOf = (net: string): 'vehicle' | 'PC' | 'box' =>
  /^(DC-|INPUT-)/.test(net) ? 'vehicle' : /^PC-/.test(net) ? 'PC' : 'box';

/** Copper of two sides nearer than the barrier. A piece that nothing is soldered to must be far from one of any two sides. */
export function barrierTroubles(document: StripDocument, file: NetlistFile): string[] {
  const copper = copperOf(document);
  const sides = runSides(document, copper, file);
  const cuts = new Set(document.cuts.map(keyOf));
  const all = copper.runs.map((run, index) => ({ run, side: sides[index], at: copperRectangle(run, cuts) }));
  const of = (side: string | undefined) => all.filter((each) => each.side === side);
  const near = (one: (typeof all)[number], side: string): boolean =>
    of(side).some((two) => two.run.board === one.run.board && distanceMm(one.at, two.at) < BARRIER_MM);
  const name = ({ run }: (typeof all)[number]): string => `${run.board} ${run.row}:${run.from}-${run.to}`;
  const pairs = [
    ['vehicle', 'box'],
    ['vehicle', 'PC'],
    ['PC', 'box'],
  ] as const;
  return pairs.flatMap(([one, two]) => [
    ...of(one).flatMap((each) =>
      near(each, two) ? [`${name(each)}: ${one} less than 8 mm from ${two}`] : [],
    ),
    ...of(undefined).flatMap((each) =>
      near(each, one) && near(each, two) ? [`${name(each)}: free copper between ${one} and ${two}`] : [],
    ),
  ]);
}

/** Side of each run by the net of what is soldered to it. */
function runSides(document: StripDocument, copper: Copper, file: NetlistFile): (string | undefined)[] {
  const netOf = new Map(
    wantedNets(file).flatMap(({ name, leads }) => leads.map((lead) => [lead, name] as const)),
  );
  const sideOfNode = new Map<number, string>();
  document.leads.forEach(({ ref, pin, spot }) => {
    const index = copper.runs.findIndex(
      ({ board, row, from, to }) =>
        board === spot.board && row === spot.row && from <= spot.column && spot.column <= to,
    );
    const net = netOf.get(`${ref}.${pin}`) ?? '';
    const isFree = net.startsWith('unconnected-');
    const node = copper.nodeOf[index];
    if (node !== undefined && !isFree) sideOfNode.set(node, sideOf(net));
  });
  return copper.nodeOf.map((node) => sideOfNode.get(node));
}
