import {
  converter,
  currentRangeMilliamp,
  hardwareTrip,
  meterChannels,
  path,
} from '../../firmware-ts/board/reference-design';
import { frontEnd } from '../calculations/front-end';
import { partOhmText } from './format';
import { Sheet } from './sheet';
import { chip } from './chips';
import { amplifier, common, flag, netName, rail, twoTerminal } from './symbols';

type Difference = {
  readonly y: number;
  readonly plus: string;
  readonly minus: string;
  /** Followers in front of both inputs, where their current would falsify the source. */
  readonly buffer?: string;
  readonly out: string;
  readonly amplifier: string;
  readonly names: readonly [string, string, string, string];
  readonly input: string;
  readonly feedback: string;
};

const differences: readonly Difference[] = [
  {
    y: 160,
    plus: 'SHUNT+',
    minus: 'SHUNT-',
    out: 'V-CURRENT',
    amplifier: 'U2b',
    names: ['R30', 'R31', 'R32', 'R33'],
    input: `${partOhmText(frontEnd.currentAmplifier.inputOhm)} 0.1 %`,
    feedback: `${partOhmText(frontEnd.currentAmplifier.feedbackOhm)} 0.1 %`,
  },
  {
    y: 460,
    plus: 'REF-TOP',
    minus: 'REF-FOOT',
    buffer: 'U6',
    out: 'V-REFERENCE',
    amplifier: 'U2c',
    names: ['R34', 'R35', 'R36', 'R37'],
    input: partOhmText(frontEnd.referenceAmplifier.inputOhm),
    feedback: partOhmText(frontEnd.referenceAmplifier.feedbackOhm),
  },
];

function buffered(sheet: Sheet, y: number, net: string, name: string): void {
  const pins = amplifier(sheet, [204, y], name);
  flag(sheet, pins.plus, 'left', net);
  sheet.wire(pins.minus, [120, pins.minus[1]], [120, y + 54], [214, y + 54], [214, y]);
  sheet.dot(214, y);
  sheet.wire([204, y], [230, y]);
}

/** One input: straight from its net, or through a follower. */
function end(sheet: Sheet, y: number, net: string, buffer: string | undefined): void {
  if (buffer !== undefined) return buffered(sheet, y, net, buffer);
  flag(sheet, [180, y], 'left', net);
  sheet.wire([180, y], [230, y]);
}

function difference(sheet: Sheet, part: Difference): void {
  const { y } = part;
  const top = y;
  const bottom = y + 130;
  end(sheet, top, part.plus, part.buffer === undefined ? undefined : `${part.buffer}b`);
  end(sheet, bottom, part.minus, part.buffer === undefined ? undefined : `${part.buffer}a`);
  twoTerminal(sheet, 'resistor', { at: [230, top], name: part.names[0], value: [part.input] });
  twoTerminal(sheet, 'resistor', { at: [230, bottom], name: part.names[1], value: [part.input] });
  const output: readonly [number, number] = [650, y + 65];
  const pins = amplifier(sheet, output, part.amplifier);
  sheet.wire([310, top], [400, top], [400, pins.plus[1]], pins.plus);
  sheet.wire([310, bottom], [400, bottom], [400, pins.minus[1]], pins.minus);
  sheet.dot(400, top);
  sheet.dot(400, bottom);
  sheet.wire([400, top], [430, top]);
  twoTerminal(sheet, 'resistor', { at: [430, top], name: part.names[2], value: [part.feedback] });
  sheet.wire([510, top], [570, top]);
  flag(sheet, [570, top], 'right', 'BIAS');
  sheet.wire([400, bottom], [430, bottom]);
  twoTerminal(sheet, 'resistor', { at: [430, bottom], name: part.names[3], value: [part.feedback] });
  sheet.wire([510, bottom], [700, bottom], [700, output[1]]);
  sheet.dot(700, output[1]);
  sheet.wire(output, [750, output[1]]);
  flag(sheet, [750, output[1]], 'right', part.out);
}

function converters(sheet: Sheet): void {
  const inputs = [
    ['V-TERMINAL', 'V-SUPPLY', 'V-GROUND'],
    ['V-CURRENT', 'V-OFFSET', 'V-REFERENCE'],
  ] as const;
  inputs.forEach((nets, index) => {
    const address = (converter.addresses[index] ?? 0).toString(16);
    const pin = chip(sheet, {
      at: [1260, 100 + index * 350],
      width: 250,
      title: [`U${4 + index}  24-bit converter`, `I²C address 0x${address}`],
      of: `U${4 + index}`,
      left: ['IN0', 'IN1', 'IN2', 'IN3', 'REF+', 'RESET-N', 'A0', 'A1', 'REF−'].map((name) => ({ name })),
      right: ['SDA', 'SCL', 'READY', 'AVDD', 'DVDD', 'AVSS', 'DGND'].map((name) => ({ name })),
      pitch: 28,
      top: 60,
    });
    const isSecond = index === 1;
    const left = [...nets, 'BIAS', 'REF', '3V3', ...(isSecond ? ['3V3', '3V3'] : [])];
    const leftPins = ['IN0', 'IN1', 'IN2', 'IN3', 'REF+', 'RESET-N', ...(isSecond ? ['A0', 'A1'] : [])];
    leftPins.forEach((name, place) => flag(sheet, pin(name), 'left', left[place] ?? ''));
    const right = ['METER-SDA', 'METER-SCL', ...(isSecond ? ['METER-READY'] : []), '5 VA', '3V3'];
    const rightPins = ['SDA', 'SCL', ...(isSecond ? ['READY'] : []), 'AVDD', 'DVDD'];
    rightPins.forEach((name, place) => flag(sheet, pin(name), 'right', right[place] ?? ''));
    // To box common on one wire a side, each beside the flags.
    const toCommon = (names: readonly string[], way: -1 | 1): void => {
      const last = pin(names.at(-1) ?? '');
      const x = last[0] + way * 30;
      for (const name of names) sheet.wire(pin(name), [x, pin(name)[1]], [x, last[1]]);
      for (const name of names.slice(1)) sheet.dot(x, pin(name)[1]);
      common(sheet, x, last[1]);
    };
    toCommon(['AVSS', 'DGND'], 1);
    toCommon(isSecond ? ['REF−'] : ['A0', 'A1', 'REF−'], -1);
  });
}

type Step = readonly [name: string, ohm: number];

/** The chain that both pairs of thresholds come from; BIAS holds its middle, so that 5 VA moves the inner pair little. */
function thresholds(sheet: Sheet): void {
  const { trip } = frontEnd;
  const upper: readonly Step[] = [
    ['R38', trip.upperOhm],
    ['R39', trip.middleOhm],
    ['R43', trip.innerOhm],
  ];
  const lower: readonly Step[] = [
    ['R44', trip.innerOhm],
    ['R45', trip.middleOhm],
    ['R40', trip.lowerOhm],
  ];
  const x = 190;
  const top = 810;
  rail(sheet, x, top, '5 VA');
  [...upper, ...lower].forEach(([name, ohm], index) =>
    twoTerminal(sheet, 'resistor', {
      at: [x, top + 90 * index],
      down: true,
      labelLeft: true,
      name,
      value: [`${partOhmText(ohm)} 1 %`],
    }),
  );
  for (let index = 0; index < 5; index += 1)
    sheet.wire([x, top + 90 * index + 80], [x, top + 90 * index + 90]);
  common(sheet, x, top + 530);
  flag(sheet, [x + 40, top + 265], 'right', 'BIAS');
  sheet.wire([x, top + 265], [x + 40, top + 265]);
  sheet.dot(x, top + 265);
}

type Comparison = {
  readonly y: number;
  readonly name: string;
  /** Place in the chain of thresholds, counted from 5 VA. */
  readonly tap: number;
  readonly net: 'V-CURRENT' | 'I-SLOW';
  readonly isHigh: boolean;
  readonly set: string;
};

const comparisons: readonly Comparison[] = [
  { y: 860, name: 'U3a', tap: 1, net: 'V-CURRENT', isHigh: true, set: 'S1' },
  { y: 990, name: 'U3c', tap: 2, net: 'I-SLOW', isHigh: true, set: 'S2' },
  { y: 1120, name: 'U3d', tap: 4, net: 'I-SLOW', isHigh: false, set: 'S3' },
  { y: 1250, name: 'U3b', tap: 5, net: 'V-CURRENT', isHigh: false, set: 'S4' },
];

function comparators(sheet: Sheet, input: (set: string) => readonly [number, number]): void {
  comparisons.forEach(({ y, name, tap, net, isHigh, set }, index) => {
    const pins = amplifier(sheet, [640, y], name);
    const tapY = 810 + 90 * tap - 5;
    const threshold = isHigh ? pins.minus : pins.plus;
    const bend = 400 - (isHigh ? 24 * (2 - tap) : 24 * (tap - 4));
    sheet.wire([190, tapY], [bend, tapY], [bend, threshold[1]], threshold);
    sheet.dot(190, tapY);
    flag(sheet, isHigh ? pins.plus : pins.minus, 'left', net);
    const at = input(set);
    const turn = 690 + 24 * (index === 0 || index === 3 ? 1 : 0);
    sheet.wire([640, y], [turn, y], [turn, at[1]], at);
  });
}

function slowFilter(sheet: Sheet): void {
  const { trip } = frontEnd;
  const [x, y] = [1180, 870];
  flag(sheet, [x, y], 'left', 'V-CURRENT');
  twoTerminal(sheet, 'resistor', {
    at: [x, y],
    name: 'R46',
    value: [`${partOhmText(trip.slowOhm)} 1 %`],
  });
  sheet.wire([x + 80, y], [x + 180, y]);
  flag(sheet, [x + 180, y], 'right', 'I-SLOW');
  sheet.dot(x + 130, y);
  twoTerminal(sheet, 'capacitor', {
    at: [x + 130, y],
    down: true,
    name: 'C24',
    value: [`${trip.slowMicrofarad} µF film`],
    clearance: 26,
  });
  sheet.wire([x + 130, y + 80], [x + 160, y + 80]);
  flag(sheet, [x + 160, y + 80], 'right', 'BIAS');
}

/** One for each comparator: an output that is missing reads as a trip. */
function pullUps(sheet: Sheet): void {
  ['R41', 'R42', 'R47', 'R48'].forEach((name, index) => {
    const x = 1560 + 95 * index;
    rail(sheet, x, 870, '3V3');
    twoTerminal(sheet, 'resistor', { at: [x, 870], down: true, name, value: ['10 kΩ'] });
    netName(sheet, [x, 950], `S${index + 1}`, [x, 968]);
  });
}

type Gate = {
  readonly at: readonly [number, number];
  readonly of: string;
  readonly unit: string;
  readonly inputs: readonly string[];
  readonly out: string;
};

const gates: readonly Gate[] = [
  { at: [1240, 1010], of: 'U7', unit: 'a', inputs: ['QUIET', '', ''], out: 'NOT-QUIET' },
  { at: [1620, 1010], of: 'U7', unit: 'b', inputs: ['DRIVE-K16', '', ''], out: 'NOT-DRIVE' },
  { at: [1240, 1200], of: 'U7', unit: 'c', inputs: ['NOT-QUIET', 'LATCH-Q', ''], out: 'TRIP-N' },
  { at: [1620, 1200], of: 'U9', unit: 'b', inputs: ['NOT-DRIVE', 'TRIP-N', '', ''], out: 'LATCH-Q' },
];

/** A NOR gate by its pins; an input without a net lies at common. */
function gate(sheet: Sheet, { at, of, unit, inputs, out }: Gate): void {
  const letters = ['A', 'B', 'C', 'D'].slice(0, inputs.length);
  const find = chip(sheet, {
    at,
    width: 110,
    title: [`${of}${unit}`, 'NOR'],
    of,
    left: letters.map((letter) => ({ name: letter, terminal: `${letter}${unit}` })),
    right: [{ name: 'Y', terminal: `Y${unit}` }],
    pitch: 26,
    top: 56,
  });
  const idle = letters.filter((_, index) => inputs[index] === '');
  inputs.forEach((net, index) => {
    if (net !== '') flag(sheet, find(letters[index] ?? ''), 'left', net);
  });
  const foot = find(idle.at(-1) ?? '');
  const x = foot[0] - 30;
  for (const letter of idle) sheet.wire(find(letter), [x, find(letter)[1]], [x, foot[1]]);
  if (idle.length > 1) sheet.dot(x, foot[1]);
  common(sheet, x, foot[1]);
  flag(sheet, find('Y'), 'right', out);
}

function trip(sheet: Sheet): void {
  sheet.text(50, 740, 'Hardware trip, independent of the firmware', { bold: true, size: 16 });
  thresholds(sheet);
  const quiet = chip(sheet, {
    at: [790, 960],
    width: 150,
    title: ['U9a', 'four-input NOR'],
    of: 'U9',
    left: ['A', 'B', 'C', 'D'].map((letter, index) => ({ name: `S${index + 1}`, terminal: `${letter}a` })),
    right: [{ name: 'QUIET', terminal: 'Ya' }],
    pitch: 34,
    top: 66,
  });
  comparators(sheet, quiet);
  for (const set of ['S1', 'S2', 'S3', 'S4']) sheet.net(set, quiet(set));
  const out = quiet('QUIET');
  sheet.wire(out, [1000, out[1]]);
  sheet.dot(985, out[1]);
  twoTerminal(sheet, 'resistor', { at: [985, out[1]], down: true, name: 'R49', value: ['8.2 kΩ'] });
  common(sheet, 985, out[1] + 80);
  flag(sheet, [1000, out[1]], 'right', 'QUIET');
  slowFilter(sheet);
  pullUps(sheet);
  for (const each of gates) gate(sheet, each);
  const { atOnce, slow } = hardwareTrip;
  sheet.note(760, 1390, [
    `V-CURRENT = 2.500 V ± 2.01 V/A. At once: U3a, U3b at ±${atOnce.milliamp} mA (${atOnce.minMilliamp} to ${atOnce.maxMilliamp} mA with part spread).`,
    `Slow: U3c, U3d at ±${slow.milliamp} mA (${slow.minMilliamp} to ${slow.maxMilliamp}) behind R46, C24 (${slow.timeConstantMs} ms): the battery pulses of a`,
    'stabiliser pass, a steady over-current does not, in any job and without firmware.',
    'QUIET = NOR(S1 … S4). U7c and U9b latch: TRIP-N stays low until the firmware has switched K16’s drive off;',
    'while the current is too high TRIP-N is low in any case. The firmware sees it at GP19.',
    'U3: open drain, S1 to S4 pulled to 3V3: an output that is missing reads as a trip. U7, U9 on 3V3.',
    'C24 ends on BIAS, so that switching on is no over-current.',
  ]);
}

/** Current and reference amplifiers, the two converters and the hardware trip. */
export function currentSheet(number: number, of: number): Sheet {
  const sheet = new Sheet({
    title: 'Current, converters, trip',
    number,
    of,
    width: 2000,
    height: 1560,
  });
  sheet.text(50, 70, 'Current, reference and converters', { size: 20, bold: true });
  for (const part of differences) difference(sheet, part);
  const ampPerVolt = meterChannels.current.scale;
  const gain = frontEnd.currentAmplifier.feedbackOhm / frontEnd.currentAmplifier.inputOhm;
  sheet.note(60, 350, [
    `Gain ${gain} on ${path.shunt.milliohm} mΩ: amperes = ${ampPerVolt.toFixed(4)} × reading, ±${currentRangeMilliamp / 1000} A.`,
    'R30 to R33 from one batch: their match, not their value, sets the zero.',
  ]);
  sheet.note(60, 668, [
    'Gain 1: the drop of the ohmmeter’s reference, about 0.5 V. R34 to R37: one network, ratio 0.01 %: nothing corrects it.',
    'Without U6, R34 and R35 would take current from the post, and lend it some while the source is off.',
  ]);
  converters(sheet);
  trip(sheet);
  return sheet;
}
