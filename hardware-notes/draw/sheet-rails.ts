import { chainHold } from '../../firmware-ts/board/reference-design';
import { chip } from './chips';
import { Sheet, softInk } from './sheet';
import { common, flag, rail, transistor, twoTerminal } from './symbols';

type Switch = {
  readonly x: number;
  readonly y: number;
  readonly title: string;
  readonly low: string;
  readonly high: string;
  readonly gatePull: string;
  readonly pullUp: string;
  readonly clamp: string;
  readonly feed: string;
  readonly out: string;
};

const switches = {
  output: {
    x: 330,
    y: 330,
    title: 'Output supply: K16 only',
    low: 'Q18',
    high: 'Q17',
    gatePull: 'R52',
    pullUp: 'R53',
    clamp: 'D37',
    feed: '5 VL',
    out: 'OUTPUT-RAIL',
  },
  chain: {
    x: 330,
    y: 800,
    title: 'Chain supply: K1 to K15',
    low: 'Q27',
    high: 'Q26',
    gatePull: 'R60',
    pullUp: 'R61',
    clamp: 'D18',
    feed: '5 VH',
    out: 'CHAIN-RAIL',
  },
} as const satisfies Record<string, Switch>;

/** N-channel on the left, p-channel on the right; `x`, `y` is the gate node of the first. */
function railSwitch(sheet: Sheet, part: Switch): void {
  const { x, y } = part;
  sheet.text(60, y - 210, part.title, { bold: true, size: 16 });
  const low = transistor(sheet, [x + 60, y], 'n', part.low);
  sheet.wire([x, y], [x + 60, y]);
  sheet.dot(x + 30, y);
  sheet.wire([x + 30, y], [x + 30, y + 30]);
  twoTerminal(sheet, 'resistor', {
    at: [x + 30, y + 30],
    down: true,
    clearance: 14,
    name: part.gatePull,
    value: ['8.2 kΩ'],
  });
  common(sheet, x + 30, y + 110);
  sheet.wire(low.down, [low.down[0], y + 110]);
  common(sheet, low.down[0], y + 110);
  const gateY = y - 100;
  sheet.wire(low.up, [low.up[0], gateY], [x + 230, gateY]);
  const high = transistor(sheet, [x + 230, gateY], 'p', part.high);
  sheet.dot(x + 150, gateY);
  twoTerminal(sheet, 'resistor', {
    at: [x + 150, gateY],
    up: true,
    labelLeft: true,
    name: part.pullUp,
    value: ['10 kΩ'],
  });
  sheet.wire([x + 150, gateY - 80], [high.up[0], gateY - 80], high.up);
  sheet.dot(high.up[0], gateY - 80);
  rail(sheet, high.up[0], gateY - 80, part.feed);
  const outY = y - 40;
  sheet.wire(high.down, [high.down[0], outY], [high.down[0] + 220, outY]);
  sheet.dot(high.down[0] + 90, outY);
  twoTerminal(sheet, 'suppressor', {
    at: [high.down[0] + 90, outY],
    down: true,
    name: part.clamp,
    value: ['12 V two-way'],
  });
  common(sheet, high.down[0] + 90, outY + 80);
  flag(sheet, [high.down[0] + 220, outY], 'right', part.out);
}

function outputGate(sheet: Sheet): void {
  const { x, y } = switches.output;
  flag(sheet, [x - 100, y], 'left', 'ALIVE');
  twoTerminal(sheet, 'resistor', { at: [x - 80, y], name: 'R51', value: ['1 kΩ'] });
  sheet.wire([x - 100, y], [x - 80, y]);
}

function chainGate(sheet: Sheet): void {
  const { x, y } = switches.chain;
  flag(sheet, [x - 100, y], 'left', 'ALIVE');
  twoTerminal(sheet, 'diode', { at: [x - 80, y], name: 'D32', value: [] });
  sheet.wire([x - 100, y], [x - 80, y]);
  flag(sheet, [x - 100, y + 60], 'left', 'HOLD');
  twoTerminal(sheet, 'diode', { at: [x - 80, y + 60], name: 'D33', value: [] });
  sheet.wire([x - 100, y + 60], [x - 80, y + 60]);
  sheet.wire([x, y + 60], [x + 10, y + 60], [x + 10, y]);
  sheet.dot(x + 10, y);
}

/** What feeds the chain while the box's own supply is gone. */
function reservoir(sheet: Sheet): void {
  const x = 1080;
  const y = 690;
  sheet.text(x - 60, y - 110, 'Reservoir', { bold: true, size: 16 });
  rail(sheet, x, y, '5 VL');
  sheet.wire([x, y], [x + 60, y]);
  twoTerminal(sheet, 'diode', { at: [x + 60, y], name: 'D34', value: ['Schottky 3 A'] });
  sheet.wire([x + 140, y], [x + 440, y]);
  sheet.dot(x + 390, y);
  flag(sheet, [x + 440, y], 'right', '5 VH');
  sheet.dot(x, y);
  sheet.wire([x, y], [x, y + 100], [x + 40, y + 100]);
  twoTerminal(sheet, 'diode', { at: [x + 40, y + 100], name: 'D36', value: ['Schottky 1 A'] });
  twoTerminal(sheet, 'resistor', { at: [x + 140, y + 100], name: 'R59', value: ['22 Ω 1 W'] });
  sheet.wire([x + 120, y + 100], [x + 140, y + 100]);
  sheet.wire([x + 220, y + 100], [x + 310, y + 100]);
  sheet.dot(x + 265, y + 100);
  twoTerminal(sheet, 'electrolytic', {
    at: [x + 265, y + 100],
    down: true,
    name: 'C52',
    value: [`${chainHold.reservoirMicrofarad} µF`, '10 V'],
    clearance: 26,
  });
  common(sheet, x + 265, y + 180);
  twoTerminal(sheet, 'diode', { at: [x + 310, y + 100], name: 'D35', value: [] });
  sheet.text(x + 404, y + 104, 'Schottky 3 A', { size: 13, colour: softInk });
  sheet.wire([x + 390, y + 100], [x + 390, y]);
}

function supervisor(sheet: Sheet): void {
  const x = 1180;
  const y = 170;
  sheet.text(1020, y - 50, 'Supervisor: a failing supply opens K16 first', { bold: true, size: 16 });
  const u = chip(sheet, {
    at: [x, y],
    width: 220,
    title: ['U14  supervisor', `${chainHold.undervoltMillivolt / 1000} V, open drain`],
    of: 'U14',
    left: [{ name: 'VDD' }, { name: 'GND' }],
    right: [{ name: 'RESET-N' }],
    pitch: 60,
    top: 66,
  });
  const supply = u('VDD');
  sheet.wire(supply, [supply[0] - 20, supply[1]]);
  flag(sheet, [supply[0] - 20, supply[1]], 'left', '5 VL');
  const ground = u('GND');
  sheet.wire(ground, [ground[0] - 30, ground[1]]);
  common(sheet, ground[0] - 30, ground[1]);
  const out = u('RESET-N');
  sheet.wire(out, [out[0] + 90, out[1]]);
  sheet.dot(out[0] + 40, out[1]);
  flag(sheet, [out[0] + 90, out[1]], 'right', 'CLEAR-N');
  twoTerminal(sheet, 'resistor', {
    at: [out[0] + 40, out[1]],
    down: true,
    name: 'R58',
    value: ['1 kΩ'],
  });
  sheet.wire([out[0] + 40, out[1] + 80], [out[0] + 60, out[1] + 80]);
  flag(sheet, [out[0] + 60, out[1] + 80], 'right', 'TRIP-N');
}

/** Half of the mean of both supplies: one that is stuck on, or missing, shows as half. */
function sense(sheet: Sheet): void {
  const x = 1150;
  const y = 460;
  sheet.text(1020, y - 50, 'Both supplies, as the controller sees them', { bold: true, size: 16 });
  flag(sheet, [x, y], 'left', 'OUTPUT-RAIL');
  flag(sheet, [x, y + 60], 'left', 'CHAIN-RAIL');
  twoTerminal(sheet, 'resistor', { at: [x, y], name: 'R63', value: ['20 kΩ'] });
  twoTerminal(sheet, 'resistor', { at: [x, y + 60], name: 'R54', value: ['20 kΩ'] });
  sheet.wire([x + 80, y], [x + 110, y], [x + 110, y + 60], [x + 80, y + 60]);
  sheet.dot(x + 110, y);
  sheet.wire([x + 110, y], [x + 330, y]);
  sheet.dot(x + 170, y);
  twoTerminal(sheet, 'resistor', { at: [x + 170, y], down: true, name: 'R55', value: ['10 kΩ'] });
  common(sheet, x + 170, y + 80);
  sheet.dot(x + 280, y);
  twoTerminal(sheet, 'diode', { at: [x + 280, y + 80], up: true, name: 'D24', value: ['Schottky'] });
  common(sheet, x + 280, y + 80);
  flag(sheet, [x + 330, y], 'right', 'RAIL-SENSE');
}

/** The two coil supplies, the reservoir behind the second, and what ends them. */
export function railsSheet(number: number, of: number): Sheet {
  const sheet = new Sheet({ title: 'Coil supplies', number, of, width: 1760, height: 1120 });
  sheet.text(50, 70, 'Coil supplies', { size: 20, bold: true });
  railSwitch(sheet, switches.output);
  outputGate(sheet);
  railSwitch(sheet, switches.chain);
  chainGate(sheet);
  supervisor(sheet);
  sense(sheet);
  reservoir(sheet);
  sheet.note(60, 990, [
    `When ALIVE ends, K16’s supply falls at once and the chain’s ${chainHold.minMs} to ${chainHold.maxMs} ms later, never later than ${chainHold.latestMs} ms.`,
    'A box whose 5 VL fails is cleared by U14 at once; C52 alone then feeds K1 to K15, and the controller, until K16 has opened.',
    'D18, D37: each gives its coils’ current a way when its switch opens: the rail swings to −13 V and the contacts fall as fast',
    'as when a driver opens. A plain diode there would treble the time.',
  ]);
  return sheet;
}
