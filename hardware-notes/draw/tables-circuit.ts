import { COMMON } from '../../firmware-ts/board/netlist';
import { bypassPlaces, circuit } from '../circuit/circuit';
import type { Component } from '../circuit/component';
import { casePlans, type CasePlan } from '../circuit/case';
import { table, type Row } from './format';

const netText = (component: Component, number: string): string => {
  const net = component.nets[number];
  return net === undefined ? 'open' : net === COMMON ? 'box common' : net;
};

const byNumber = (one: { readonly number: string }, two: { readonly number: string }): number =>
  Number(one.number) - Number(two.number);

/** Every pin of a chip with its net, in one cell: short enough to tick off while soldering. */
function chipTable(): string {
  const chips = circuit.filter(({ reference }) => reference.startsWith('U'));
  const rows = chips.map((chip): Row => {
    const pins = [...chip.terminals]
      .sort(byNumber)
      .map(({ number, name }) => `${number} ${name}: ${netText(chip, number)}`);
    return [chip.reference, chip.type ?? '', pins.join('; ')];
  });
  return table(['chip', 'type the numbers belong to', 'pin, name: net'], rows);
}

function smallTable(): string {
  const seen = new Map<string, Row>();
  for (const { reference, type, terminals } of circuit) {
    if (type === undefined || /^[UJX]/.test(reference)) continue;
    const text = terminals.map(({ number, name }) => `${number} ${name}`).join(', ');
    const row = seen.get(type);
    seen.set(type, [type, row === undefined ? reference : `${String(row[1])}, ${reference}`, text]);
  }
  return table(['type', 'parts', 'terminals'], [...seen.values()]);
}

function plugTable(): string {
  const plugs = circuit.filter(({ reference }) => reference.startsWith('J'));
  const rows = plugs.flatMap((plug) =>
    plug.terminals.map(({ number, name }): Row => [`${plug.reference}`, number, name, netText(plug, number)]),
  );
  return table(['socket', 'pole', 'name', 'net'], rows);
}

const bypassTable = (): string =>
  table(
    ['capacitor', 'at'],
    bypassPlaces.map(([capacitor, chip]): Row => [capacitor, chip]),
  );

/** Wires inside the case, by what they carry. The leads keep the colours of the hook-up. */
const wires: readonly Row[] = [
  ['path: J1 force, F1 to R16', 'red', '0.75 mm²'],
  ['box common: star point at R16, J2 force', 'black', '0.75 mm²'],
  ['SENDER sense, GROUND sense', 'white, white with a black band', '0.14 mm², twisted with nothing'],
  ['FEED sense, BATTERY − sense', 'yellow, blue', '0.14 mm²'],
  ['input +, input −', 'red and black, in brown sleeve', '0.5 mm²'],
  ['5 VL, 5 VH', 'orange', '0.5 mm²'],
  ['5 VA', 'orange with a white band', '0.25 mm²'],
  ['3V3', 'pink', '0.25 mm²'],
  ['OUTPUT-RAIL, CHAIN-RAIL', 'violet, violet with a white band', '0.25 mm²'],
  ['drives, pulse, trip line, I²C', 'grey', '0.14 mm²'],
  ['CAL +', 'green', '0.25 mm²'],
  ['PC side, all', 'any colour, in yellow sleeve: it is not the box', '0.14 mm²'],
];

function holeTable({ size, holes }: CasePlan): string {
  const rows = holes.map(({ name, wall, x, y, diameter, what }): Row => [name, wall, x, y, diameter, what]);
  const head = ['hole', 'wall', 'x, mm', 'y, mm', 'diameter, mm', 'for'];
  return `Case ${size.length} × ${size.width} × ${size.height} mm.\n\n${table(head, rows)}`;
}

/** Tables about what is joined to what. */
export const circuitTables = (): readonly (readonly [string, string])[] => [
  ['chip-pins', chipTable()],
  ['small-pins', smallTable()],
  ['plugs', plugTable()],
  ['bypass', bypassTable()],
  ['wires', table(['what', 'colour', 'wire'], wires)],
  ['holes', holeTable(casePlans.printed)],
  ['strip-holes', holeTable(casePlans.strip)],
];
