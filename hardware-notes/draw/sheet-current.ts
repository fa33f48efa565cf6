import { converter, hardwareTrip, meterChannels, path } from '../../firmware-ts/board/reference-design';
import { frontEnd } from '../calculations/front-end';
import { partOhmText } from './format';
import { Sheet } from './sheet';
import { chip } from './chips';
import { amplifier, common, flag, rail, twoTerminal } from './symbols';

type Difference = {
  readonly y: number;
  readonly plus: string;
  readonly minus: string;
  /** Follower in front of the lower input, where its current would falsify the source. */
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
    input: `${partOhmText(frontEnd.referenceAmplifier.inputOhm)} 0.1 %`,
    feedback: `${partOhmText(frontEnd.referenceAmplifier.feedbackOhm)} 0.1 %`,
  },
];

function buffered(sheet: Sheet, y: number, net: string, name: string): void {
  const pins = amplifier(sheet, [190, y], name);
  flag(sheet, pins.plus, 'left', net);
  sheet.wire(pins.minus, [106, pins.minus[1]], [106, y + 54], [198, y + 54], [198, y]);
  sheet.dot(198, y);
  sheet.wire([190, y], [210, y]);
}

function difference(sheet: Sheet, part: Difference): void {
  const { y } = part;
  const top = y;
  const bottom = y + 130;
  flag(sheet, [180, top], 'left', part.plus);
  if (part.buffer === undefined) flag(sheet, [180, bottom], 'left', part.minus);
  else buffered(sheet, bottom, part.minus, part.buffer);
  sheet.wire([180, top], [210, top]);
  if (part.buffer === undefined) sheet.wire([180, bottom], [210, bottom]);
  twoTerminal(sheet, 'resistor', { at: [210, top], name: part.names[0], value: [part.input] });
  twoTerminal(sheet, 'resistor', { at: [210, bottom], name: part.names[1], value: [part.input] });
  const output: readonly [number, number] = [650, y + 65];
  const pins = amplifier(sheet, output, part.amplifier);
  sheet.wire([290, top], [400, top], [400, pins.plus[1]], pins.plus);
  sheet.wire([290, bottom], [400, bottom], [400, pins.minus[1]], pins.minus);
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

function thresholds(sheet: Sheet): void {
  rail(sheet, 240, 790, '5 VA');
  twoTerminal(sheet, 'resistor', {
    at: [240, 790],
    down: true,
    labelLeft: true,
    name: 'R38',
    value: [`${partOhmText(frontEnd.trip.upperOhm)} 1 %`],
  });
  sheet.wire([240, 870], [240, 890]);
  twoTerminal(sheet, 'resistor', {
    at: [240, 890],
    down: true,
    labelLeft: true,
    name: 'R39',
    value: [`${partOhmText(frontEnd.trip.middleOhm)} 1 %`],
  });
  sheet.wire([240, 970], [240, 990]);
  twoTerminal(sheet, 'resistor', {
    at: [240, 990],
    down: true,
    labelLeft: true,
    name: 'R40',
    value: [`${partOhmText(frontEnd.trip.lowerOhm)} 1 %`],
  });
  common(sheet, 240, 1070);
  sheet.dot(240, 879);
  sheet.dot(240, 980);
  sheet.text(256, 872, '4.50 V', { size: 12 });
  sheet.text(256, 974, '0.50 V', { size: 12 });
}

function trip(sheet: Sheet): void {
  sheet.text(50, 730, 'Hardware trip, independent of the firmware', { bold: true, size: 16 });
  thresholds(sheet);
  const high = amplifier(sheet, [530, 860], 'U3a');
  const low = amplifier(sheet, [530, 999], 'U3b');
  sheet.wire([240, 879], high.minus);
  sheet.wire([240, 980], low.plus);
  flag(sheet, high.plus, 'left', 'V-CURRENT');
  flag(sheet, low.minus, 'left', 'V-CURRENT');
  const latch = chip(sheet, {
    at: [650, 850],
    width: 190,
    title: ['U7  latch', 'three NOR gates'],
    left: [{ name: 'SET 1' }, { name: 'SET 2' }, undefined, undefined, { name: 'RESET-N' }],
    right: [undefined, { name: 'Q̅' }],
    pitch: 34,
    top: 66,
  });
  sheet.wire([530, 860], [590, 860], [590, latch('SET 1')[1]], latch('SET 1'));
  sheet.wire([530, 999], [560, 999], [560, latch('SET 2')[1]], latch('SET 2'));
  flag(sheet, latch('RESET-N'), 'left', 'DRIVE-K16');
  flag(sheet, latch('Q̅'), 'right', 'TRIP-N');
  sheet.note(1040, 850, [
    `V-CURRENT = 2.500 V + 5 V/A, so the thresholds are +${hardwareTrip.milliamp} and −${hardwareTrip.milliamp} mA`,
    `(${hardwareTrip.minMilliamp} to ${hardwareTrip.maxMilliamp} mA with part spread). The latch stays set until the`,
    'firmware has switched the output relay’s drive off; while the current is',
    'too high TRIP-N is low in any case. The firmware sees it at GP19.',
    'TRIP-N = NOR(SET 1, SET 2, Q); Q = NOR(not DRIVE-K16, TRIP-N).',
    'U3: open-drain outputs, each with 10 kΩ to 3V3 (R41, R42); U7 runs on 3V3.',
    'U4, U5: address pins tied as their data sheet says; a reset pin to 3V3.',
  ]);
}

/** Current and reference amplifiers, the two converters and the hardware trip. */
export function currentSheet(number: number, of: number): Sheet {
  const sheet = new Sheet({
    title: 'Current, converters, trip',
    number,
    of,
    width: 1700,
    height: 1200,
  });
  sheet.text(50, 70, 'Current, reference and converters', { size: 20, bold: true });
  for (const part of differences) difference(sheet, part);
  const ampPerVolt = meterChannels.current.scale;
  sheet.note(60, 350, [
    `Gain 10 on ${path.shunt.milliohm} mΩ: amperes = ${ampPerVolt} × reading, ±0.5 A.`,
    'R30 to R37 from one batch: their match, not their value, sets the zero.',
  ]);
  sheet.note(60, 672, [
    'Gain 1: the drop of the ohmmeter’s reference resistor, about 0.5 V. Without U6 the 7 µA of R35 would be missing at the CAL post.',
  ]);
  converters(sheet);
  trip(sheet);
  return sheet;
}
