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
import { amplifier, common, flag, rail, twoTerminal } from './symbols';

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
    const x = 1180;
    const pin = chip(sheet, {
      at: [x, 130 + index * 320],
      width: 250,
      title: [`U${4 + index}  24-bit converter`, `I²C address 0x${address}`],
      left: [
        { name: 'IN0' },
        { name: 'IN1' },
        { name: 'IN2' },
        { name: 'IN3' },
        { name: 'REF+' },
        { name: 'REF−' },
      ],
      right: [
        { name: 'SDA' },
        { name: 'SCL' },
        { name: 'READY' },
        { name: 'AVDD' },
        { name: 'DVDD' },
        { name: 'GND' },
      ],
      pitch: 32,
      top: 66,
    });
    [...nets, 'BIAS', 'REF'].forEach((net, place) => {
      const at = pin(['IN0', 'IN1', 'IN2', 'IN3', 'REF+'][place] ?? '');
      flag(sheet, at, 'left', net);
    });
    const foot = pin('REF−');
    sheet.wire(foot, [foot[0] - 30, foot[1]]);
    common(sheet, foot[0] - 30, foot[1]);
    const nearRight = ['METER-SDA', 'METER-SCL', index === 1 ? 'METER-READY' : '', '5 VA', '3V3', ''];
    ['SDA', 'SCL', 'READY', 'AVDD', 'DVDD', 'GND'].forEach((name, place) => {
      const at = pin(name);
      const net = nearRight[place] ?? '';
      if (net !== '') flag(sheet, at, 'right', net);
    });
    const ground = pin('GND');
    sheet.wire(ground, [ground[0] + 30, ground[1]]);
    common(sheet, ground[0] + 30, ground[1]);
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
  flag(sheet, [1180, 860], 'left', 'V-CURRENT');
  twoTerminal(sheet, 'resistor', {
    at: [1180, 860],
    name: 'R46',
    value: [`${partOhmText(trip.slowOhm)} 1 %`],
  });
  sheet.wire([1260, 860], [1360, 860]);
  flag(sheet, [1360, 860], 'right', 'I-SLOW');
  sheet.dot(1310, 860);
  twoTerminal(sheet, 'capacitor', {
    at: [1310, 860],
    down: true,
    name: 'C24',
    value: [`${trip.slowMicrofarad} µF film`],
    clearance: 26,
  });
  sheet.wire([1310, 940], [1340, 940]);
  flag(sheet, [1340, 940], 'right', 'BIAS');
}

function trip(sheet: Sheet): void {
  sheet.text(50, 740, 'Hardware trip, independent of the firmware', { bold: true, size: 16 });
  thresholds(sheet);
  const gate = chip(sheet, {
    at: [790, 960],
    width: 150,
    title: ['U9a', 'four-input NOR'],
    left: [{ name: 'S1' }, { name: 'S2' }, { name: 'S3' }, { name: 'S4' }],
    right: [{ name: 'QUIET' }],
    pitch: 34,
    top: 66,
  });
  comparators(sheet, gate);
  const latch = chip(sheet, {
    at: [1180, 990],
    width: 190,
    title: ['U7, U9b  latch', 'NOR gates'],
    left: [{ name: 'QUIET' }, { name: 'RESET-N' }],
    right: [{ name: 'Q̅' }],
    pitch: 74,
    top: 66,
  });
  sheet.wire(gate('QUIET'), [985, gate('QUIET')[1]], [985, latch('QUIET')[1]], latch('QUIET'));
  sheet.dot(985, latch('QUIET')[1]);
  twoTerminal(sheet, 'resistor', {
    at: [985, latch('QUIET')[1]],
    down: true,
    name: 'R49',
    value: ['8.2 kΩ'],
  });
  common(sheet, 985, latch('QUIET')[1] + 80);
  flag(sheet, latch('RESET-N'), 'left', 'DRIVE-K16');
  flag(sheet, latch('Q̅'), 'right', 'TRIP-N');
  slowFilter(sheet);
  const { atOnce, slow } = hardwareTrip;
  sheet.note(760, 1240, [
    `V-CURRENT = 2.500 V ± 2.01 V/A. At once: U3a, U3b at ±${atOnce.milliamp} mA (${atOnce.minMilliamp} to ${atOnce.maxMilliamp} mA with part spread).`,
    `Slow: U3c, U3d at ±${slow.milliamp} mA (${slow.minMilliamp} to ${slow.maxMilliamp}) behind R46, C24 (${slow.timeConstantMs} ms): the battery pulses of a`,
    'stabiliser pass, a steady over-current does not, in any job and without firmware.',
    'QUIET = NOR(S1 … S4). TRIP-N = NOR(not QUIET, Q); Q = NOR(not DRIVE-K16, TRIP-N): set until the firmware has',
    'switched K16’s drive off; while the current is too high TRIP-N is low in any case. The firmware sees it at GP19.',
    'U3: open drain, each output with 10 kΩ to 3V3 (R41, R42, R47, R48): one that is missing reads as a trip. U7, U9 on 3V3.',
    'C24 ends on BIAS, so that switching on is no over-current.',
  ]);
}

/** Current and reference amplifiers, the two converters and the hardware trip. */
export function currentSheet(number: number, of: number): Sheet {
  const sheet = new Sheet({
    title: 'Current, converters, trip',
    number,
    of,
    width: 1700,
    height: 1440,
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
