import { ohmmeter } from '../../firmware-ts/board/reference-design';
import { frontEnd } from '../calculations/front-end';
import { partOhmText } from './format';
import { isolationColour, Sheet } from './sheet';
import { chip } from './chips';
import {
  amplifier,
  clip,
  common,
  flag,
  foreignGround,
  passTransistor,
  rail,
  transistor,
  twoTerminal,
} from './symbols';

const lineY = 190;

function input(sheet: Sheet): void {
  clip(sheet, [80, lineY], 'J5 DC IN +', { remark: '9 to 18 V', end: ['X5', 'JAW'] });
  sheet.wire([87, lineY], [150, lineY]);
  twoTerminal(sheet, 'fuse', { at: [150, lineY], name: 'F2', value: ['1 A slow'] });
  sheet.wire([230, lineY], [290, lineY]);
  sheet.dot(255, lineY);
  sheet.wire([255, lineY], [255, lineY + 60]);
  twoTerminal(sheet, 'suppressor', {
    at: [255, lineY + 60],
    down: true,
    labelLeft: true,
    name: 'D25',
    value: ['33 V two-way', '1500 W'],
    clearance: 22,
  });
  sheet.wire([255, lineY + 140], [255, 400]);
  const gate = passTransistor(sheet, [290, lineY], 'Q20', 'right');
  sheet.wire(gate, [gate[0], lineY + 95]);
  twoTerminal(sheet, 'resistor', {
    at: [gate[0], lineY + 95],
    down: true,
    name: 'R90',
    value: ['10 kΩ'],
  });
  sheet.wire([gate[0], lineY + 175], [gate[0], 400]);
  sheet.dot(gate[0], lineY + 80);
  sheet.wire([gate[0], lineY + 80], [420, lineY + 80]);
  twoTerminal(sheet, 'zener', {
    at: [420, lineY + 80],
    up: true,
    name: 'D26',
    value: ['12 V'],
    clearance: 22,
  });
  sheet.wire([370, lineY], [760, lineY]);
  sheet.dot(420, lineY);
  clip(sheet, [80, 400], 'J5 DC IN −', { end: ['X6', 'JAW'] });
  sheet.wire([87, 400], [760, 400]);
  sheet.dot(650, lineY);
  sheet.wire([650, lineY], [650, lineY + 60]);
  twoTerminal(sheet, 'electrolytic', {
    at: [650, lineY + 60],
    down: true,
    name: 'C90',
    value: ['470 µF'],
    clearance: 26,
  });
  sheet.wire([650, lineY + 140], [650, 400]);
  sheet.dot(650, 400);
  sheet.dot(gate[0], 400);
  sheet.dot(255, 400);
  sheet.dot(180, 400);
  foreignGround(sheet, [180, 400], 'input 0 V', 'INPUT-0V');
}

function converterBlock(sheet: Sheet): void {
  const u = chip(sheet, {
    at: [790, 130],
    width: 240,
    title: ['U15  isolated converter', '9–36 V in, 5 V 1.2 A out'],
    of: 'U15',
    left: [{ name: 'IN +' }, undefined, undefined, { name: 'IN −' }],
    right: [{ name: 'OUT +' }, undefined, undefined, { name: 'OUT −' }],
    pitch: 70,
    top: 60,
  });
  sheet.wire([760, lineY], u('IN +'));
  sheet.wire([760, 400], u('IN −'));
  sheet.path('M910 95 V126 M910 185 V440', { colour: isolationColour, width: 2.4, dash: '9 7' });
  sheet.text(910, 465, 'isolation barrier', { anchor: 'middle', bold: true, colour: isolationColour });
  sheet.wire(u('OUT +'), [1250, lineY]);
  sheet.wire(u('OUT −'), [1120, u('OUT −')[1]]);
  common(sheet, 1120, u('OUT −')[1]);
  rail(sheet, 1120, lineY, '5 VL');
  sheet.dot(1120, lineY);
  twoTerminal(sheet, 'resistor', { at: [1250, lineY], name: 'R91', value: ['2.2 Ω'] });
  sheet.wire([1330, lineY], [1500, lineY]);
  sheet.dot(1380, lineY);
  twoTerminal(sheet, 'electrolytic', {
    at: [1380, lineY],
    down: true,
    name: 'C91',
    value: ['100 µF, and', 'C94 1 µF'],
    clearance: 26,
  });
  common(sheet, 1380, lineY + 80);
  rail(sheet, 1380, lineY, '5 VA');
  sheet.dot(1170, lineY);
  twoTerminal(sheet, 'electrolytic', {
    at: [1170, lineY],
    down: true,
    name: 'C92',
    value: ['470 µF'],
    clearance: 26,
  });
  common(sheet, 1170, lineY + 80);
  const reference = chip(sheet, {
    at: [1524, 130],
    width: 190,
    title: ['U16  reference', '2.500 V, 0.1 %, 25 ppm/K'],
    of: 'U16',
    left: [{ name: 'IN' }],
    right: [{ name: 'OUT' }],
    top: 60,
    height: 100,
  });
  sheet.wire([1500, lineY], reference('IN'));
  const out = reference('OUT');
  flag(sheet, out, 'right', 'REF');
  sheet.wire(out, [out[0], 250]);
  twoTerminal(sheet, 'capacitor', { at: [out[0], 250], down: true, name: 'C93', value: ['10 µF'] });
  common(sheet, out[0], 330);
}

function sourceSwitch(sheet: Sheet): void {
  const y = 650;
  sheet.text(50, 520, 'Ohmmeter source', { bold: true, size: 16 });
  flag(sheet, [150, y + 150], 'left', 'OHM-LOW');
  flag(sheet, [150, y + 210], 'left', 'OHM-HIGH');
  twoTerminal(sheet, 'diode', { at: [150, y + 150], name: 'D28', value: [] });
  twoTerminal(sheet, 'diode', { at: [150, y + 210], name: 'D29', value: [] });
  sheet.wire([230, y + 150], [300, y + 150]);
  sheet.wire([230, y + 210], [260, y + 210], [260, y + 150]);
  sheet.dot(260, y + 150);
  const low = transistor(sheet, [300, y + 150], 'n', 'Q21');
  sheet.dot(280, y + 150);
  sheet.wire([280, y + 150], [280, y + 230]);
  twoTerminal(sheet, 'resistor', { at: [280, y + 230], down: true, name: 'R92', value: ['100 kΩ'] });
  common(sheet, 280, y + 310);
  sheet.wire(low.down, [low.down[0], y + 200]);
  common(sheet, low.down[0], y + 200);
  const gate = passTransistor(sheet, [298, y - 40], 'Q22', 'left');
  sheet.wire(low.up, [low.up[0], gate[1]], gate);
  rail(sheet, 250, y - 40, '5 VA');
  sheet.wire([250, y - 40], [298, y - 40]);
  sheet.dot(270, y - 40);
  sheet.wire([270, y - 40], [270, y - 30]);
  twoTerminal(sheet, 'resistor', {
    at: [270, y - 30],
    down: true,
    labelLeft: true,
    name: 'R93',
    value: ['100 kΩ'],
  });
  sheet.wire([270, y + 50], [338, y + 50]);
  sheet.dot(338, y + 50);
}

const feedY = 610;
const footY = 700;

function references(sheet: Sheet): void {
  sheet.wire([378, feedY], [960, feedY]);
  sheet.dot(900, feedY);
  twoTerminal(sheet, 'resistor', {
    at: [900, feedY],
    down: true,
    labelLeft: true,
    name: 'R17',
    value: [partOhmText(frontEnd.source.lowReferenceOhm), '0.1 %'],
  });
  sheet.wire([900, feedY + 80], [900, footY]);
  sheet.dot(930, feedY);
  sheet.wire([930, feedY], [930, feedY - 40], [1180, feedY - 40]);
  flag(sheet, [1180, feedY - 40], 'right', 'REF-TOP');
  const gate = passTransistor(sheet, [960, feedY], 'Q24', 'left');
  flag(sheet, gate, 'right', 'HIGH-N');
  sheet.wire([1040, feedY], [1120, feedY]);
  twoTerminal(sheet, 'resistor', {
    at: [1120, feedY],
    down: true,
    name: 'R18',
    value: [`${partOhmText(frontEnd.source.highReferenceOhm)} 0.1 %`],
  });
  sheet.wire([1120, feedY + 80], [1120, footY]);
  sheet.dot(900, footY);
  sheet.dot(1120, footY);
  sheet.wire([798, footY], [1180, footY]);
  flag(sheet, [1180, footY], 'right', 'REF-FOOT');
}

function sourceCore(sheet: Sheet): void {
  sheet.dot(460, feedY);
  twoTerminal(sheet, 'resistor', {
    at: [460, feedY],
    down: true,
    name: 'R94',
    value: [`${partOhmText(frontEnd.source.upperOhm)} 1 %`],
  });
  sheet.wire([460, feedY + 80], [460, 780]);
  twoTerminal(sheet, 'resistor', {
    at: [460, 780],
    down: true,
    name: 'R95',
    value: [`${partOhmText(frontEnd.source.lowerOhm)} 1 %`],
  });
  common(sheet, 460, 860);
  const pins = amplifier(sheet, [710, 744], 'U2d', false);
  sheet.dot(460, pins.plus[1]);
  sheet.wire([460, pins.plus[1]], pins.plus);
  const q = transistor(sheet, [760, 744], 'p', 'Q23');
  sheet.wire([710, 744], [760, 744]);
  sheet.wire(q.up, [q.up[0], footY]);
  sheet.dot(q.up[0], footY);
  sheet.wire([q.up[0], footY], [610, footY], [610, pins.minus[1]], pins.minus);
  references(sheet);
  sheet.wire(q.down, [q.down[0], 830]);
  output(sheet, q.down[0], 830);
}

function highSwitch(sheet: Sheet): void {
  const y = 880;
  flag(sheet, [1490, y], 'left', 'OHM-HIGH');
  sheet.wire([1490, y], [1520, y]);
  const q = transistor(sheet, [1520, y], 'n', 'Q25');
  sheet.dot(1505, y);
  twoTerminal(sheet, 'resistor', {
    at: [1505, y],
    down: true,
    labelLeft: true,
    name: 'R97',
    value: ['8.2 kΩ'],
  });
  common(sheet, 1505, y + 80);
  sheet.wire(q.down, [q.down[0], y + 50]);
  common(sheet, q.down[0], y + 50);
  sheet.wire(q.up, [q.up[0], y - 50]);
  sheet.dot(q.up[0], y - 44);
  twoTerminal(sheet, 'resistor', { at: [q.up[0], y - 50], up: true, name: 'R96', value: ['100 kΩ'] });
  rail(sheet, q.up[0], y - 130, 'REF-TOP');
  sheet.wire([q.up[0], y - 44], [q.up[0] + 60, y - 44]);
  flag(sheet, [q.up[0] + 60, y - 44], 'right', 'HIGH-N');
}

function output(sheet: Sheet, x: number, y: number): void {
  sheet.wire([x, y], [860, y]);
  twoTerminal(sheet, 'diode', { at: [860, y], name: 'D30', value: ['Schottky 60 V'] });
  sheet.wire([940, y], [1080, y]);
  twoTerminal(sheet, 'fuse', { at: [1080, y], name: 'F3', value: ['50 mA PTC'] });
  sheet.wire([1160, y], [1240, y]);
  sheet.dot(1010, y);
  twoTerminal(sheet, 'zener', { at: [1010, y + 90], up: true, name: 'D31', value: ['33 V'], clearance: 22 });
  sheet.wire([1010, y], [1010, y + 10]);
  common(sheet, 1010, y + 90);
  clip(sheet, [1247, y], 'J7 CAL +', { end: ['J7', 'POST'] });
  clip(sheet, [1247, y + 110], 'J8 CAL −', { end: ['J8', 'POST'] });
  sheet.wire([1240, y + 110], [1200, y + 110]);
  common(sheet, 1200, y + 110);
}

/** Power input, isolated converter, reference, and the ohmmeter's current source. */
export function powerSheet(number: number, of: number): Sheet {
  const sheet = new Sheet({ title: 'Power and ohmmeter source', number, of, width: 1860, height: 1120 });
  sheet.text(50, 70, 'Power', { size: 20, bold: true });
  input(sheet);
  converterBlock(sheet);
  sourceSwitch(sheet);
  sourceCore(sheet);
  highSwitch(sheet);
  sheet.note(1380, 490, [
    `Low: R17, ${ohmmeter.low.microamp} µA, up to ${ohmmeter.low.maxMilliohm / 1e6} kΩ.`,
    `High: R17 with R18, ${ohmmeter.high.microamp / 1000} mA, up to ${ohmmeter.high.maxMilliohm / 1000} Ω.`,
    'The current itself need not be exact: the drop of R17, or of',
    'R17 with R18, is measured, and the unknown is its ratio.',
    'A battery on CAL + by mistake finds D30 blocked; the',
    'wrong way round it finds D31, and F3 at the post.',
    'D25 lies before Q20: negative pulses meet it first.',
    'Q20: 100 V p-channel; a reversed input leaves it off.',
  ]);
  return sheet;
}
