import { valueIn, type FilePin, type NetlistFile } from './netlist-file';

/**
 * What must hold in this circuit whoever wrote its netlist, from the file alone: the rules of any board program, and those
 * that keep the output open while a program is dead. Answers with sentences; none is right.
 */

const COMMON = 'COMMON';
/** Zero volts of the box, of the supply's side and of the PC's side: nothing may conduct between them. */
const SIDES = [COMMON, 'INPUT-0V', 'PC-0V'];
const RELAY_PULL_OHM = 8200;
const GATE_PULL_OHM = 100e3;
/** What still feeds a supply pin: a fuse, a switch, a diode, a filter resistor. */
const FEED_OHM = 25;
/** A bare clip may meet nothing under this without a fuse. */
const CLIP_OHM = 10e3;

type Edge = { readonly from: string; readonly to: string; readonly ref: string; readonly ohm: number };

type Pin = FilePin & { readonly net: string };

class Board {
  readonly file: NetlistFile;
  readonly pins: readonly Pin[];
  readonly edges: readonly Edge[];
  readonly #pinsOf: ReadonlyMap<string, readonly Pin[]>;
  readonly #valueOf: ReadonlyMap<string, string>;

  constructor(file: NetlistFile) {
    this.file = file;
    this.pins = file.nets.flatMap(({ name, pins }) => pins.map((pin) => ({ ...pin, net: name })));
    const pinsOf = new Map<string, Pin[]>(file.parts.map(({ ref }) => [ref, []]));
    for (const pin of this.pins) pinsOf.get(pin.ref)?.push(pin);
    this.#pinsOf = pinsOf;
    this.#valueOf = new Map(file.parts.map(({ ref, value }) => [ref, value]));
    this.edges = file.parts.flatMap(({ ref }) => this.#edgeOf(ref));
  }

  ohm(ref: string): number {
    return valueIn(this.#valueOf.get(ref) ?? '');
  }

  pinsOf(ref: string): readonly Pin[] {
    return this.#pinsOf.get(ref) ?? [];
  }

  /** Net of a part's pin by the name of its function. */
  named(ref: string, name: string): string | undefined {
    return this.pinsOf(ref).find((pin) => pin.name === name)?.net;
  }

  /** A part with two nets that lets current through: resistor, fuse, diode, channel of a transistor, contact. */
  #edgeOf(ref: string): Edge[] {
    if (/^C\d/.test(ref)) return [];
    const pins = this.pinsOf(ref).filter(({ type }) => type !== 'no_connect');
    const wanted = ref.startsWith('Q') ? ['S', 'D'] : ref.startsWith('K') ? ['COM', 'MAKE'] : undefined;
    if (wanted === undefined && !/^[RFND]/.test(ref)) return [];
    const [from, to] = new Set(
      pins.filter(({ name }) => wanted === undefined || wanted.includes(name)).map(({ net }) => net),
    );
    if (from === undefined || to === undefined) return [];
    const ohm = ref.startsWith('R') ? this.ohm(ref) : 0;
    return [{ from, to, ref, ohm: Number.isNaN(ohm) ? 0 : ohm }];
  }

  /** Nets that current reaches from some, through what `passes`. */
  reached(start: readonly string[], passes: (edge: Edge) => boolean): Set<string> {
    const found = new Set(start);
    const edges = this.edges.filter(passes);
    for (let grew = true; grew;) {
      grew = false;
      for (const { from, to } of edges)
        if (found.has(from) !== found.has(to)) {
          found.add(from).add(to);
          grew = true;
        }
    }
    return found;
  }

  /** Ohm of the resistors straight between two nets. */
  between(one: string | undefined, two: string | undefined): number[] {
    return this.edges
      .filter(({ ref }) => ref.startsWith('R'))
      .filter(({ from, to }) => (from === one && to === two) || (from === two && to === one))
      .map(({ ohm }) => ohm);
  }
}

function netTroubles({ file }: Board): string[] {
  const open = (name: string): boolean => name.startsWith('unconnected-');
  const few = file.nets.filter(({ name, pins }) => !open(name) && pins.length < 2);
  const joined = file.nets.filter(
    ({ name, pins }) => open(name) && (pins.length !== 1 || pins[0]?.type !== 'no_connect'),
  );
  const all = file.nets.flatMap(({ pins }) => pins);
  const seen = new Map<string, number>();
  for (const { ref, pin } of all) seen.set(`${ref}.${pin}`, (seen.get(`${ref}.${pin}`) ?? 0) + 1);
  const twice = [...seen].filter(([, count]) => count > 1).map(([pin]) => pin);
  const refs = file.parts.map(({ ref }) => ref);
  const met = new Set(all.map(({ ref }) => ref));
  const lost = refs.filter((ref) => !met.has(ref));
  const strange = file.nets.flatMap(({ pins }) => pins.filter(({ ref }) => !refs.includes(ref)));
  const free = file.nets.filter(
    ({ name, pins }) => !open(name) && pins.some(({ type }) => type === 'no_connect'),
  );
  return [
    ...few.map(({ name }) => `${name} leads nowhere`),
    ...joined.map(({ name }) => `${name} is called open and is not`),
    ...twice.map((pin) => `${pin} lies on two nets`),
    ...lost.map((ref) => `${ref} has no net`),
    ...strange.map(({ ref }) => `${ref} is no part of the list`),
    ...free.map(({ name }) => `${name} meets a pin that must stay free`),
  ];
}

function twoEndTroubles(board: Board): string[] {
  return board.file.parts
    .filter(({ ref }) => /^[RCFD]\d/.test(ref) || ref === 'NT1')
    .flatMap(({ ref, value }) => {
      const nets = board.pinsOf(ref).map(({ net }) => net);
      const wanted = value === 'BAV199' ? 3 : 2;
      return new Set(nets).size === wanted ? [] : [`${ref} is shorted or open: ${nets.join(', ')}`];
    });
}

function outputTroubles({ file }: Board): string[] {
  return file.nets.flatMap(({ name, pins }) => {
    const driven = pins.filter(({ type }) => type === 'output' || type === 'power_out');
    const shared = pins.some(({ type }) => type === 'open_collector') && driven.length > 0;
    // The USB socket and the module behind it are one supply; the two bridge pins of one module name one output twice.
    return driven.length > 1 || shared
      ? [`${name} is driven by ${driven.map(({ ref }) => ref).join(' and ')}`]
      : [];
  });
}

function supplyTroubles(board: Board): string[] {
  const sources = board.pins
    .filter(({ type, ref }) => type === 'power_out' || ref === 'X5')
    .map(({ net }) => net);
  const fed = board.reached(
    sources,
    ({ ohm, to, from }) => ohm <= FEED_OHM && !SIDES.includes(to) && !SIDES.includes(from),
  );
  const chips = board.file.parts.filter(({ ref }) => ref.startsWith('U'));
  return chips.flatMap(({ ref }) => {
    const supplies = board.pins
      .filter((pin) => pin.ref === ref && pin.type === 'power_in')
      .map(({ net }) => net);
    const isFed = supplies.some((net) => fed.has(net));
    const hasZero = supplies.some((net) => SIDES.includes(net)) || ref === 'U15';
    const hung = supplies.filter((net) => !fed.has(net) && !SIDES.includes(net));
    return isFed && hasZero && hung.length === 0 ? [] : [`${ref} is not powered: ${supplies.join(', ')}`];
  });
}

function gateTroubles(board: Board): string[] {
  return board.file.parts
    .filter(({ ref }) => ref.startsWith('Q'))
    .flatMap(({ ref }) => {
      const gate = board.named(ref, 'G');
      const source = board.named(ref, 'S');
      const limit = /^Q([1-9]|1[0-6])$/.test(ref) ? RELAY_PULL_OHM : GATE_PULL_OHM;
      // Q20 turns on by its pull-down and is held below by its zener; Q23 follows an amplifier.
      if (ref === 'Q20' || ref === 'Q23') return [];
      const pulls = board.between(gate, source);
      return pulls.some((ohm) => ohm <= limit) ? [] : [`the gate of ${ref} is not pulled to its source`];
    });
}

/** Every relay pin, by the controller's pin: driver on the high side of a dead program is off. */
function driverTroubles(board: Board): string[] {
  const coils = board.file.parts.filter(({ ref }) => ref.startsWith('K'));
  return coils.flatMap(({ ref }) => {
    const coil = board.named(ref, 'COIL−');
    const drain = board.pins.find(
      ({ net, name, ref: of }) => net === coil && name === 'D' && of.startsWith('Q'),
    );
    if (drain === undefined) return [`${ref} has no driver`];
    const clamp = board.edges.some(
      ({ ref: of, from, to }) => of.startsWith('D') && (from === coil || to === coil),
    );
    const isLow = board.named(drain.ref, 'S') === COMMON;
    return clamp && isLow
      ? []
      : [`${ref}: ${clamp ? 'its driver is not at common' : 'its coil has no clamp'}`];
  });
}

function openDrainTroubles(board: Board): string[] {
  return board.file.nets
    .filter(({ pins }) => pins.some(({ type }) => type === 'open_collector'))
    .filter(({ name, pins }) => {
      const isPulled = board.edges.some(
        ({ ref, from, to }) => ref.startsWith('R') && (from === name || to === name),
      );
      // GP22 is set to its own pull-up by the program; no other pin of the controller is relied on so.
      return !isPulled && !pins.some(({ ref, name: pin }) => ref === 'U10' && pin === 'GP22');
    })
    .map(({ name }) => `${name} is never pulled up`);
}

function barrierTroubles(board: Board): string[] {
  return SIDES.flatMap((side) => {
    const reached = board.reached([side], () => true);
    return SIDES.filter((other) => other !== side && reached.has(other)).map(
      (other) => `${side} meets ${other}`,
    );
  });
}

/** A lead's clip meets a fuse or 10 kohm before anything else. Box common and the input's zero are returns. */
function clipTroubles(board: Board): string[] {
  return board.pins
    .filter(({ ref, net }) => ref.startsWith('X') && !SIDES.includes(net))
    .flatMap(({ ref, net }) => {
      const near = board.pins.filter((pin) => pin.net === net && pin.ref !== ref);
      const bad = near.filter(
        (pin) => !pin.ref.startsWith('F') && !(pin.ref.startsWith('R') && board.ohm(pin.ref) >= CLIP_OHM),
      );
      return bad.map((pin) => `${ref} meets ${pin.ref} without a fuse`);
    });
}

/** What a guard of the hardware hangs on: each must be there, whatever else the board is. */
function protectionTroubles(board: Board): string[] {
  const ways: readonly (readonly [string, boolean])[] = [
    [
      'K16 breaks the whole current',
      !board
        .reached(
          ['FUSED'],
          ({ ref, ohm }) => !['K16', 'F1'].includes(ref) && ohm < 1e6 && !ref.startsWith('D'),
        )
        .has('SHUNT+'),
    ],
    [
      'the suppressor lies behind the fuse',
      board.edges.some(
        ({ ref, from, to }) =>
          ref.startsWith('D') && [from, to].includes('FUSED') && [from, to].includes(COMMON),
      ),
    ],
    [
      'the pulse pin is pulled down',
      board.between(board.named('U10', 'GP18'), COMMON).some((ohm) => ohm <= RELAY_PULL_OHM),
    ],
    [
      'the trip line is low without its latch',
      board.between(board.named('U10', 'GP19'), COMMON).some((ohm) => ohm <= 10e3),
    ],
    ['K16 hangs on a supply of its own', board.named('K16', 'COIL+') !== board.named('K1', 'COIL+')],
  ];
  return ways.filter(([, holds]) => !holds).map(([what]) => `not so: ${what}`);
}

/** Every trouble of a netlist, as sentences. */
export function electricalTroubles(file: NetlistFile): string[] {
  const board = new Board(file);
  return [
    netTroubles,
    twoEndTroubles,
    outputTroubles,
    supplyTroubles,
    gateTroubles,
    driverTroubles,
    openDrainTroubles,
    barrierTroubles,
    clipTroubles,
    protectionTroubles,
  ].flatMap((check) => check(board));
}
