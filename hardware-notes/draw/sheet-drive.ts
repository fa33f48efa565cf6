import { deadMan, elements, outputRelay, relay } from '../../firmware-ts/board/reference-design';
import { Sheet, softInk } from './sheet';
import { chip } from './chips';
import { common, flag, rail, transistor, twoTerminal } from './symbols';

function oneShot(sheet: Sheet): void {
  sheet.text(50, 110, 'Dead-man: the coil rail lives only while the main loop toggles', {
    bold: true,
    size: 16,
  });
  const x = 330;
  const u = chip(sheet, {
    at: [x, 200],
    width: 210,
    title: ['U8  one-shot', 'retriggerable, edge fired'],
    left: [{ name: 'FIRE ↑' }, { name: 'CLEAR' }],
    right: [{ name: 'Q' }, { name: 'RC' }, { name: 'C' }],
    pitch: 44,
    top: 70,
  });
  const fire = u('FIRE ↑');
  flag(sheet, [fire[0] - 20, fire[1]], 'left', 'PULSE');
  sheet.wire([fire[0] - 20, fire[1]], fire);
  const clear = u('CLEAR');
  flag(sheet, [clear[0] - 20, clear[1]], 'left', 'TRIP-N');
  sheet.wire([clear[0] - 20, clear[1]], clear);
  const rc = u('RC');
  const c = u('C');
  rail(sheet, 700, rc[1] - 130, '5 VL');
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
    'U8 on 5 VL. Its other trigger input is tied so that FIRE fires; with two one-shots in the chip,',
    'tie the spare one’s trigger and clear to common.',
  ]);
}

function railSwitch(sheet: Sheet): void {
  const x = 900;
  sheet.text(x - 20, 110, 'Coil rail switch', { bold: true, size: 16 });
  flag(sheet, [x, 400], 'left', 'ALIVE');
  sheet.wire([x, 400], [x + 20, 400]);
  twoTerminal(sheet, 'resistor', { at: [x + 20, 400], name: 'R51', value: ['1 kΩ'] });
  const low = transistor(sheet, [x + 130, 400], 'n', 'Q18');
  sheet.wire([x + 100, 400], [x + 130, 400]);
  sheet.dot(x + 115, 400);
  sheet.wire([x + 115, 400], [x + 115, 440]);
  twoTerminal(sheet, 'resistor', {
    at: [x + 115, 440],
    down: true,
    labelLeft: true,
    name: 'R52',
    value: ['8.2 kΩ'],
  });
  common(sheet, x + 115, 520);
  sheet.wire(low.down, [low.down[0], 520]);
  common(sheet, low.down[0], 520);
  const gateY = 250;
  sheet.wire(low.up, [low.up[0], gateY]);
  const high = transistor(sheet, [x + 250, gateY], 'p', 'Q17');
  sheet.wire([low.up[0], gateY], [x + 250, gateY]);
  sheet.dot(low.up[0] + 30, gateY);
  sheet.wire([low.up[0] + 30, gateY], [low.up[0] + 30, 250]);
  twoTerminal(sheet, 'resistor', {
    at: [low.up[0] + 30, 250],
    up: true,
    labelLeft: true,
    name: 'R53',
    value: ['10 kΩ'],
  });
  sheet.wire([low.up[0] + 30, 170], [high.up[0], 170], high.up);
  sheet.dot(high.up[0], 170);
  rail(sheet, high.up[0], 170, '5 VL');
  sheet.wire(high.down, [high.down[0], 340], [high.down[0] + 260, 340]);
  sheet.dot(high.down[0] + 80, 340);
  twoTerminal(sheet, 'suppressor', {
    at: [high.down[0] + 80, 360],
    down: true,
    name: 'D18',
    value: ['12 V two-way'],
  });
  sheet.wire([high.down[0] + 80, 340], [high.down[0] + 80, 360]);
  common(sheet, high.down[0] + 80, 440);
  flag(sheet, [high.down[0] + 260, 340], 'right', 'COIL-RAIL');
  sheet.note(x + 270, 500, [
    'D18 gives the coils’ current a way when Q17 opens first:',
    'the rail swings to −13 V and the contacts fall as fast as',
    'when a driver opens. A plain diode here would treble the time.',
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
  rail(sheet, q.up[0], y - 150, 'COIL-RAIL');
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
  rail(sheet, x + 260, 760, 'COIL-RAIL');
  sheet.note(
    x - 80,
    908,
    [
      `Signal relay K1 to K15: ${relay.coilOhm} Ω, ${relay.coilMilliamp} mA. Output relay K16: ${outputRelay.coilOhm} Ω, ${outputRelay.coilMilliamp} mA.`,
      `All sixteen together: ${15 * relay.coilMilliamp + outputRelay.coilMilliamp} mA at 5 V.`,
      `Release with this clamp: at most ${relay.releaseMaxMs} ms (K1 to K15), ${outputRelay.releaseMaxMs} ms (K16).`,
      'A driver’s drain sees 5 + 12 + 1 = 18 V, about 25 V with the suppressor’s',
      'slope: Q1 to Q16 are 60 V types that are fully on at 3.3 V on the gate.',
      'The 8.2 kΩ pull-downs keep every relay dead while the pins float: at reset,',
      'at boot, with the controller missing. Keep them at or below 8.2 kΩ (pin leakage',
      'of one controller revision can hold a weakly pulled pin near 2 V).',
    ],
    { colour: softInk },
  );
  twoTerminal(sheet, 'resistor', { at: [1500, 700], down: true, name: 'R54', value: ['10 kΩ'] });
  rail(sheet, 1500, 700, 'COIL-RAIL');
  sheet.wire([1500, 780], [1500, 800]);
  sheet.dot(1500, 790);
  sheet.wire([1500, 790], [1560, 790]);
  flag(sheet, [1560, 790], 'right', 'RAIL-SENSE');
  twoTerminal(sheet, 'resistor', { at: [1500, 800], down: true, name: 'R55', value: ['10 kΩ'] });
  common(sheet, 1500, 880);
  twoTerminal(sheet, 'diode', {
    at: [1430, 880],
    up: true,
    labelLeft: true,
    name: 'D24',
    value: ['Schottky'],
  });
  sheet.wire([1430, 800], [1430, 790], [1500, 790]);
  common(sheet, 1430, 880);
}

/** Relay drivers, their clamp, the coil rail and the one-shot that keeps it alive. */
export function driveSheet(number: number, of: number): Sheet {
  const sheet = new Sheet({ title: 'Relay drive and dead-man', number, of, width: 1760, height: 1180 });
  sheet.text(50, 70, 'Relay drive and dead-man', { size: 20, bold: true });
  oneShot(sheet);
  railSwitch(sheet);
  driver(sheet);
  clampBus(sheet);
  return sheet;
}
