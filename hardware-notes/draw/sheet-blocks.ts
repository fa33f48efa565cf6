import {
  converter,
  deadMan,
  elements,
  hardwareTrip,
  ohmmeter,
} from '../../firmware-ts/board/reference-design';
import { arrow, block, region } from './blocks';
import { isolationColour, Sheet } from './sheet';
import { clip } from './symbols';

const pathFill = '#e9f1fa';
const safetyFill = '#fdeee6';

function currentPath(sheet: Sheet): void {
  block(sheet, {
    at: [370, 170],
    size: [130, 70],
    title: 'F1, D1',
    lines: ['fuse, suppressor'],
    fill: pathFill,
  });
  block(sheet, {
    at: [540, 170],
    size: [130, 70],
    title: 'K16',
    lines: ['output contact'],
    fill: safetyFill,
  });
  block(sheet, {
    at: [710, 170],
    size: [130, 70],
    title: 'R15 / K15',
    lines: ['limiter, bypass'],
    fill: pathFill,
  });
  block(sheet, {
    at: [880, 170],
    size: [170, 70],
    title: `R1 … R${elements.length}`,
    lines: [`K1 … K${elements.length} across them`],
    fill: pathFill,
  });
  block(sheet, { at: [1090, 170], size: [110, 70], title: 'R16', lines: ['shunt'], fill: pathFill });
  for (const [from, to] of [
    [500, 540],
    [670, 710],
    [840, 880],
    [1050, 1090],
  ] as const) {
    sheet.wire([from, 205], [to, 205]);
  }
  clip(sheet, [330, 205], '');
  sheet.wire([337, 205], [370, 205]);
  clip(sheet, [330, 300], '');
  sheet.wire([337, 300], [1145, 300], [1145, 240]);
  sheet.text(348, 322, 'GROUND clip, F4 in its lead = box common', { size: 12.5 });
}

function meter(sheet: Sheet): void {
  block(sheet, {
    at: [560, 370],
    size: [230, 90],
    title: 'Meter',
    lines: [`two ${converter.bits}-bit converters`, 'volts, amps, ground offset'],
  });
  arrow(sheet, [
    [1170, 240],
    [1170, 390],
    [790, 390],
  ]);
  sheet.text(990, 381, 'current', { size: 12.5, anchor: 'middle' });
  for (const [y, name] of [
    [370, 'SENDER sense'],
    [400, 'GROUND sense'],
    [430, 'FEED'],
    [460, 'BATTERY −'],
  ] as const) {
    clip(sheet, [330, y], '');
    sheet.text(344, y - 6, name, { size: 12 });
    sheet.wire([337, y], [510, y]);
  }
  sheet.wire([510, 370], [510, 460]);
  arrow(sheet, [
    [510, 415],
    [560, 415],
  ]);
  block(sheet, {
    at: [370, 540],
    size: [165, 80],
    title: 'Ohmmeter source',
    lines: [`${ohmmeter.low.microamp} µA, ${ohmmeter.high.microamp / 1000} mA`],
  });
  clip(sheet, [330, 580], '');
  sheet.wire([337, 580], [370, 580]);
  sheet.text(314, 562, 'CAL posts', { size: 11.5 });
}

function control(sheet: Sheet): void {
  block(sheet, {
    at: [600, 540],
    size: [190, 100],
    title: 'Controller',
    lines: ['RP2040 or RP2350', 'the firmware'],
  });
  arrow(
    sheet,
    [
      [675, 460],
      [675, 540],
    ],
    true,
  );
  sheet.text(685, 505, 'I²C', { size: 12.5 });
  arrow(sheet, [
    [600, 580],
    [535, 580],
  ]);
  block(sheet, {
    at: [870, 420],
    size: [190, 60],
    title: 'Hardware trip',
    lines: [
      `±${hardwareTrip.atOnce.milliamp / 1000} A at once, ±${hardwareTrip.slow.milliamp / 1000} A slow`,
    ],
    fill: safetyFill,
  });
  arrow(sheet, [
    [1170, 450],
    [1060, 450],
  ]);
  sheet.wire([1170, 390], [1170, 450]);
  sheet.dot(1170, 390);
  coils(sheet);
}

function coils(sheet: Sheet): void {
  block(sheet, {
    at: [870, 540],
    size: [190, 70],
    title: 'Dead-man one-shot',
    lines: [`${deadMan.nominalMs} ms, edge fired`],
    fill: safetyFill,
  });
  arrow(sheet, [
    [965, 480],
    [965, 540],
  ]);
  sheet.text(975, 516, 'stops', { size: 12.5 });
  arrow(sheet, [
    [790, 575],
    [870, 575],
  ]);
  sheet.text(830, 566, 'pulse', { size: 12.5, anchor: 'middle' });
  block(sheet, {
    at: [870, 655],
    size: [190, 60],
    title: 'Two coil supplies',
    lines: ['K16 first, then the chain'],
    fill: safetyFill,
  });
  arrow(sheet, [
    [965, 610],
    [965, 655],
  ]);
  block(sheet, { at: [870, 760], size: [190, 60], title: '16 relay drivers', lines: ['pull-down on each'] });
  arrow(sheet, [
    [720, 640],
    [720, 790],
    [870, 790],
  ]);
  arrow(sheet, [
    [965, 715],
    [965, 760],
  ]);
  sheet.text(975, 743, 'coil supplies', { size: 12.5 });
}

function pcSide(sheet: Sheet): void {
  region(sheet, [1310, 110], [280, 780], 'PC side');
  block(sheet, { at: [1180, 810], size: [150, 60], title: 'Isolator', lines: ['serial line'] });
  arrow(
    sheet,
    [
      [660, 640],
      [660, 840],
      [1180, 840],
    ],
    true,
  );
  block(sheet, { at: [1390, 700], size: [150, 60], title: 'USB bridge' });
  arrow(
    sheet,
    [
      [1330, 840],
      [1465, 840],
      [1465, 760],
    ],
    true,
  );
  block(sheet, { at: [1370, 420], size: [190, 110], title: 'Host', lines: ['laptop or small', 'computer'] });
  arrow(
    sheet,
    [
      [1465, 700],
      [1465, 530],
    ],
    true,
  );
  sheet.text(1475, 620, 'USB', { size: 12.5 });
}

function outside(sheet: Sheet): void {
  region(sheet, [40, 110], [230, 780], 'Vehicle or bench');
  block(sheet, { at: [70, 170], size: [150, 70], title: 'Gauge', lines: ['sender terminal'] });
  sheet.wire([220, 205], [323, 205]);
  block(sheet, { at: [70, 275], size: [150, 60], title: 'Sender’s ground' });
  sheet.wire([220, 300], [323, 300]);
  block(sheet, {
    at: [70, 395],
    size: [150, 90],
    title: 'Sense points',
    lines: ['gauge feed,', 'battery negative'],
  });
  sheet.wire([220, 430], [323, 430]);
  sheet.wire([220, 460], [323, 460]);
  block(sheet, {
    at: [70, 540],
    size: [150, 80],
    title: 'Clips or sender',
    lines: ['for calibration', 'and bench tests'],
  });
  sheet.wire([220, 580], [323, 580]);
  block(sheet, { at: [70, 750], size: [150, 70], title: '9 to 18 V DC', lines: ['fused 1 A'] });
  block(sheet, { at: [270, 750], size: [170, 70], title: 'Isolated converter', lines: ['input to 5 V'] });
  sheet.wire([220, 785], [270, 785]);
  arrow(sheet, [
    [440, 785],
    [520, 785],
  ]);
  sheet.text(480, 776, '5 V', { size: 12.5, anchor: 'middle' });
}

/** What the box is made of, what shares a zero volts with what, and which ways can open the output. */
export function blockSheet(number: number, of: number): Sheet {
  const sheet = new Sheet({ title: 'Block diagram', number, of, width: 1640, height: 1030 });
  sheet.text(50, 70, 'The box in blocks', { size: 20, bold: true });
  region(sheet, [310, 110], [940, 780], 'Box, on the GROUND clip’s common');
  outside(sheet);
  pcSide(sheet);
  currentPath(sheet);
  meter(sheet);
  control(sheet);
  sheet.path('M1255 130 V806 M1255 874 V905', { colour: isolationColour, width: 2.4, dash: '9 7' });
  sheet.path('M355 736 V748 M355 824 V905', { colour: isolationColour, width: 2.4, dash: '9 7' });
  sheet.text(1255, 925, 'isolation', { anchor: 'middle', bold: true, colour: isolationColour });
  sheet.text(355, 925, 'isolation', { anchor: 'middle', bold: true, colour: isolationColour });
  sheet.note(50, 960, [
    'Blue: the gauge current. Orange: what can open the output without the firmware’s good will.',
    'When the coil supplies end, K16 opens first and every bypass 8 to 20 ms later: 6.4 kΩ stand in the path even if K16 had welded.',
  ]);
  return sheet;
}
