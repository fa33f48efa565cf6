import { chainHold, deadMan, elements, outputRelay, relay } from '../../firmware-ts/board/reference-design';
import { Sheet, softInk } from './sheet';
import { chip, type Pin } from './chips';
import { common, flag, rail, transistor, twoTerminal } from './symbols';

/** A pin as drawn, and its terminal in one half of the chip. */
const ofUnit =
  (unit: 'a' | 'b') =>
  (name: string): Pin => ({ name, terminal: `${name.replace(' ', '')}${unit}` });

function oneShot(sheet: Sheet): void {
  sheet.text(50, 110, 'Dead-man: the coil rail lives only while the main loop toggles', {
    bold: true,
    size: 16,
  });
  const x = 330;
  const u = chip(sheet, {
    at: [x, 200],
    width: 210,
    title: ['U8a  one-shot', 'retriggerable, edge fired'],
    of: 'U8',
    left: ['FIRE ↑', 'CLEAR', 'FIRE ↓'].map(ofUnit('a')),
    right: ['Q', 'RC', 'C'].map(ofUnit('a')),
    pitch: 44,
    top: 70,
  });
  const fire = u('FIRE ↑');
  flag(sheet, [fire[0] - 20, fire[1]], 'left', 'PULSE');
  sheet.wire([fire[0] - 20, fire[1]], fire);
  const clear = u('CLEAR');
  flag(sheet, [clear[0] - 20, clear[1]], 'left', 'CLEAR-N');
  sheet.wire([clear[0] - 20, clear[1]], clear);
  const idle = u('FIRE ↓');
  sheet.wire(idle, [idle[0] - 30, idle[1]]);
  common(sheet, idle[0] - 30, idle[1]);
  const rc = u('RC');
  const c = u('C');
  rail(sheet, 700, rc[1] - 130, '3V3');
  twoTerminal(sheet, 'resistor', {
    at: [700, rc[1] - 130],
    down: true,
    name: 'R50',
    value: [`${deadMan.timingKilohm} kΩ 1 %`],
  });
  sheet.wire([700, rc[1] - 50], [700, rc[1]], rc);
  sheet.dot(640, rc[1]);
  sheet.wire([640, rc[1]], [640, rc[1] + 66]);
  twoTerminal(sheet, 'capacitor', {
    at: [640, rc[1] + 66],
    down: true,
    name: 'C50',
    value: [`${deadMan.timingMicrofarad} µF film`],
  });
  sheet.wire([640, rc[1] + 146], [600, rc[1] + 146], [600, c[1]], c);
  const q = u('Q');
  sheet.wire(q, [600, q[1]], [600, 215]);
  flag(sheet, [600, 215], 'right', 'ALIVE');
  sheet.note(50, 520, [
    `Length = ${deadMan.lengthFactor} · R50 · C50 = ${deadMan.nominalMs} ms; ${deadMan.minMs} to ${deadMan.maxMs} ms with part spread.`,
    `The loop toggles at least every ${deadMan.pulsePeriodMaxMs} ms. A pin stuck high or stuck low gives no edge.`,
    'U8: two one-shots in one chip, CMOS, on 3V3, of the kind that its CLEAR input cannot fire.',
  ]);
}

/** The second one-shot: what the end of ALIVE fires keeps the chain's coils fed until K16 has opened. */
function holdShot(sheet: Sheet): void {
  const x = 1080;
  sheet.text(x - 130, 110, 'K16 first: the chain’s coils are held a little longer', { bold: true, size: 16 });
  const u = chip(sheet, {
    at: [x, 200],
    width: 210,
    title: ['U8b  one-shot', 'retriggerable, edge fired'],
    of: 'U8',
    left: ['FIRE ↓', 'CLEAR', 'FIRE ↑'].map(ofUnit('b')),
    right: ['Q', 'RC', 'C'].map(ofUnit('b')),
    pitch: 44,
    top: 70,
  });
  const fire = u('FIRE ↓');
  flag(sheet, [fire[0] - 20, fire[1]], 'left', 'ALIVE');
  sheet.wire([fire[0] - 20, fire[1]], fire);
  const clear = u('CLEAR');
  flag(sheet, [clear[0] - 20, clear[1]], 'left', '3V3');
  sheet.wire([clear[0] - 20, clear[1]], clear);
  const idle = u('FIRE ↑');
  flag(sheet, [idle[0] - 20, idle[1]], 'left', '3V3');
  sheet.wire([idle[0] - 20, idle[1]], idle);
  const rc = u('RC');
  const c = u('C');
  rail(sheet, 1450, rc[1] - 130, '3V3');
  twoTerminal(sheet, 'resistor', {
    at: [1450, rc[1] - 130],
    down: true,
    name: 'R57',
    value: [`${chainHold.timingKilohm} kΩ 1 %`],
  });
  sheet.wire([1450, rc[1] - 50], [1450, rc[1]], rc);
  sheet.dot(1390, rc[1]);
  sheet.wire([1390, rc[1]], [1390, rc[1] + 66]);
  twoTerminal(sheet, 'capacitor', {
    at: [1390, rc[1] + 66],
    down: true,
    name: 'C51',
    value: [`${chainHold.timingMicrofarad} µF film`],
  });
  sheet.wire([1390, rc[1] + 146], [1350, rc[1] + 146], [1350, c[1]], c);
  const q = u('Q');
  sheet.wire(q, [1350, q[1]], [1350, 215]);
  flag(sheet, [1350, 215], 'right', 'HOLD');
  sheet.note(x - 130, 520, [
    `Length = ${chainHold.lengthFactor} · R57 · C51 = ${chainHold.nominalMs} ms; ${chainHold.minMs} to ${chainHold.maxMs} ms with part spread.`,
    'When ALIVE ends (no edges, a trip, a supply that fails) K16’s supply ends with it; HOLD keeps the',
    'supply of K1 to K15 until K16 has broken the current. K16 welded: then the chain opens all the same.',
  ]);
}

function driver(sheet: Sheet): void {
  const y = 860;
  sheet.text(50, 620, `Relay driver, ${elements.length + 2} times: K1 to K${elements.length + 2}`, {
    bold: true,
    size: 16,
  });
  flag(sheet, [250, y], 'left', 'DRIVE-K1 … DRIVE-K16');

  twoTerminal(sheet, 'resistor', { at: [250, y], name: 'R101…', value: ['100 Ω'] });
  const q = transistor(sheet, [390, y], 'n', 'Q1 … Q16');
  sheet.wire([330, y], [390, y]);
  sheet.dot(360, y);
  sheet.wire([360, y], [360, y + 20]);
  twoTerminal(sheet, 'resistor', {
    at: [360, y + 20],
    down: true,
    labelLeft: true,
    name: 'R121…',
    value: ['8.2 kΩ'],
  });
  common(sheet, 360, y + 100);
  sheet.wire(q.down, [q.down[0], y + 100]);
  common(sheet, q.down[0], y + 100);
  sheet.wire(q.up, [q.up[0], y - 70]);
  twoTerminal(sheet, 'coil', {
    at: [q.up[0], y - 150],
    down: true,
    labelLeft: true,
    clearance: 28,
    name: 'K1 … K16',
    value: ['5 V coil'],
  });
  sheet.wire([q.up[0], y - 150], [q.up[0], y - 162], [q.up[0] + 40, y - 162]);
  flag(sheet, [q.up[0] + 40, y - 162], 'right', 'CHAIN-RAIL');
  sheet.text(q.up[0] + 175, y - 157, '(K16: OUTPUT-RAIL)', { size: 12.5, colour: softInk });
  sheet.dot(q.up[0], y - 55);
  sheet.wire([q.up[0], y - 55], [500, y - 55]);
  twoTerminal(sheet, 'diode', { at: [500, y - 55], name: 'D2 … D17', value: ['one per coil'] });
  sheet.wire([580, y - 55], [640, y - 55]);
  flag(sheet, [640, y - 55], 'right', 'CLAMP-BUS');
}

function clampBus(sheet: Sheet): void {
  const x = 960;
  sheet.text(x - 80, 620, 'Coil clamp, one for all', { bold: true, size: 16 });
  flag(sheet, [x, 760], 'left', 'CLAMP-BUS');
  sheet.wire([x, 760], [x + 40, 760]);
  twoTerminal(sheet, 'zenerBack', {
    at: [x + 120, 760],
    clearance: 22,
    name: 'D19',
    value: ['12 V, 600 W', 'suppressor, one-way'],
  });
  sheet.wire([x + 40, 760], [x + 120, 760]);
  sheet.wire([x + 200, 760], [x + 260, 760]);
  rail(sheet, x + 260, 760, '5 VL');
  sheet.note(
    x - 80,
    908,
    [
      `Signal relay K1 to K15: ${relay.coilOhm} Ω, ${relay.coilMilliamp} mA. Output relay K16: reckoned with ${outputRelay.coilOhm} Ω, ${outputRelay.coilMilliamp} mA (PA1a: 208 Ω, 24 mA).`,
      `All sixteen together: ${15 * relay.coilMilliamp + outputRelay.coilMilliamp} mA at 5 V. The clamp ends on 5 VL, so that it works whichever rail is up.`,
      `Release with this clamp: at most ${relay.releaseMaxMs} ms (K1 to K15), ${outputRelay.releaseMaxMs} ms (K16).`,
      'A driver’s drain sees 5 + 12 + 1 = 18 V, about 25 V with the suppressor’s',
      'slope: Q1 to Q16 are 60 V types that are fully on at 3.3 V on the gate.',
      'The 8.2 kΩ pull-downs keep every relay dead while the pins float: at reset,',
      'at boot, with the controller missing. Keep them at or below 8.2 kΩ (pin leakage',
      'of one controller revision can hold a weakly pulled pin near 2 V).',
    ],
    { colour: softInk },
  );
}

/** A light that no program can forget: it is lit while K16's coil is. */
function light(sheet: Sheet): void {
  const y = 1045;
  flag(sheet, [250, y], 'left', 'OUTPUT-RAIL');
  twoTerminal(sheet, 'resistor', { at: [250, y], name: 'R64', value: ['470 Ω'] });
  twoTerminal(sheet, 'diode', { at: [330, y], name: 'D39', value: ['as D2'] });
  twoTerminal(sheet, 'lamp', { at: [440, y], name: '', of: 'D38', value: ['red, on the front'] });
  sheet.text(470, y - 24, 'D38', { bold: true, anchor: 'end' });
  sheet.wire([410, y], [440, y]);
  sheet.wire([520, y], [560, y]);
  sheet.text(570, y + 5, 'drain of Q16', { size: 13 });
  sheet.net('COIL-K16', [560, y]);
  sheet.note(250, y + 62, ['“Output live”: lit while the coil of K16 is, whatever the firmware says.']);
}

/** Relay drivers, their clamp, the coil rail and the one-shot that keeps it alive. */
export function driveSheet(number: number, of: number): Sheet {
  const sheet = new Sheet({ title: 'Relay drive and dead-man', number, of, width: 1760, height: 1180 });
  sheet.text(50, 70, 'Relay drive and dead-man', { size: 20, bold: true });
  oneShot(sheet);
  holdShot(sheet);
  driver(sheet);
  clampBus(sheet);
  light(sheet);
  return sheet;
}
