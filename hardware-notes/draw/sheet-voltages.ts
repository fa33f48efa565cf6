import { meterChannels, type MeterChannelName } from '../../firmware-ts/board/reference-design';
import { frontEnd } from '../calculations/front-end';
import { partOhmText } from './format';
import { Sheet, softInk } from './sheet';
import { amplifier, common, flag, rail, twoTerminal } from './symbols';

type Input = {
  readonly y: number;
  readonly net: string;
  readonly out: string;
  readonly channel: MeterChannelName;
  readonly upper: readonly [name: string, value: string];
  readonly lower: readonly [name: string, value: string];
  readonly capacitor: string;
  readonly clamp: string;
  readonly amplifier: string;
};

const inputs: readonly Input[] = [
  {
    y: 200,
    net: 'SENDER-SENSE',
    out: 'V-TERMINAL',
    channel: 'terminal',
    upper: ['R20', `${partOhmText(frontEnd.dividers.terminal.upperOhm)} 1 %`],
    lower: ['R21', `${partOhmText(frontEnd.dividers.terminal.lowerOhm)} 1 %`],
    capacitor: 'C20',
    clamp: 'D20',
    amplifier: 'U1a',
  },
  {
    y: 450,
    net: 'FEED-SENSE',
    out: 'V-SUPPLY',
    channel: 'supply',
    upper: ['R22', `${partOhmText(frontEnd.dividers.supply.upperOhm)} 1 %`],
    lower: ['R23', `${partOhmText(frontEnd.dividers.supply.lowerOhm)} 1 %`],
    capacitor: 'C21',
    clamp: 'D21',
    amplifier: 'U1b',
  },
  {
    y: 700,
    net: 'GROUND-SENSE',
    out: 'V-GROUND',
    channel: 'groundSense',
    upper: ['R24', `${partOhmText(frontEnd.dividers.groundSense.upperOhm)} 1 %`],
    lower: ['R25', `${partOhmText(frontEnd.dividers.groundSense.lowerOhm)} 1 %`],
    capacitor: 'C22',
    clamp: 'D22',
    amplifier: 'U1c',
  },
  {
    y: 950,
    net: 'BATTERY-NEG-SENSE',
    out: 'V-OFFSET',
    channel: 'groundOffset',
    upper: ['R26', `${partOhmText(frontEnd.dividers.groundOffset.upperOhm)} 1 %`],
    lower: ['R27', `${partOhmText(frontEnd.dividers.groundOffset.lowerOhm)} 1 %`],
    capacitor: 'C23',
    clamp: 'D23',
    amplifier: 'U1d',
  },
];

function divider(sheet: Sheet, input: Input): void {
  const { y } = input;
  flag(sheet, [250, y], 'left', input.net);
  sheet.wire([250, y], [290, y]);
  twoTerminal(sheet, 'resistor', { at: [290, y], name: input.upper[0], value: [input.upper[1]] });
  sheet.wire([370, y], [790, y]);
  sheet.dot(430, y);
  sheet.wire([430, y], [430, y + 20]);
  twoTerminal(sheet, 'resistor', {
    at: [430, y + 20],
    down: true,
    name: input.lower[0],
    value: [input.lower[1]],
  });
  sheet.wire([430, y + 100], [430, y + 125]);
  flag(sheet, [430, y + 125], 'left', 'BIAS');
  sheet.dot(560, y);
  sheet.wire([560, y], [560, y + 20]);
  twoTerminal(sheet, 'capacitor', {
    at: [560, y + 20],
    down: true,
    name: input.capacitor,
    value: ['1 nF C0G'],
  });
  common(sheet, 560, y + 100);
}

function clampAndBuffer(sheet: Sheet, input: Input): void {
  const { y } = input;
  sheet.dot(680, y);
  twoTerminal(sheet, 'diode', {
    at: [680, y],
    up: true,
    name: input.clamp,
    value: ['low leakage'],
    terminals: ['MID', 'K'],
  });
  rail(sheet, 680, y - 80, '5 VA');
  twoTerminal(sheet, 'diode', {
    at: [680, y + 80],
    up: true,
    name: '',
    of: input.clamp,
    terminals: ['A', 'MID'],
  });
  common(sheet, 680, y + 80);
  const pins = amplifier(sheet, [900, y + 19], input.amplifier);
  sheet.wire([790, y], pins.plus);
  sheet.wire(pins.minus, [812, pins.minus[1]], [812, y + 76], [925, y + 76], [925, y + 19]);
  sheet.dot(925, y + 19);
  sheet.wire([900, y + 19], [980, y + 19]);
  flag(sheet, [980, y + 19], 'right', input.out);
}

function law(sheet: Sheet, input: Input): void {
  const { scale, offset, converter, input: pin } = meterChannels[input.channel];
  sheet.note(
    1120,
    input.y + 14,
    [`converter ${converter}, input ${pin}`, `volts = ${scale} × reading + ${(offset / 1e6).toFixed(3)}`],
    { size: 13, colour: softInk },
  );
}

function bias(sheet: Sheet): void {
  sheet.text(1390, 240, 'Bias and reference', { bold: true, size: 16 });
  flag(sheet, [1440, 320], 'left', 'REF');
  sheet.wire([1440, 320], [1470, 320]);
  const pins = amplifier(sheet, [1560, 339], 'U2a');
  sheet.wire([1470, 320], pins.plus);
  sheet.wire(pins.minus, [1470, 358], [1470, 400], [1590, 400], [1590, 339]);
  sheet.dot(1590, 339);
  sheet.wire([1560, 339], [1620, 339]);
  flag(sheet, [1620, 339], 'right', 'BIAS');
  sheet.note(
    1390,
    470,
    [
      'BIAS is the 2.500 V reference, buffered. A divider that ends on it reads',
      'both signs on a single 5 V supply; a lead clipped to nothing reads 2.5 V.',
      'U1, U2: CMOS, rail to rail, input current below 50 pA, zero drift.',
      'Wash the flux off round R20 to R27: 1 GΩ of dirt is a 0.1 % error.',
    ],
    { size: 13 },
  );
}

/** The four voltage inputs of the meter and the bias they are read against. */
export function voltageSheet(number: number, of: number): Sheet {
  const sheet = new Sheet({ title: 'Meter: voltage inputs', number, of, width: 1940, height: 1180 });
  sheet.text(50, 70, 'Voltage inputs', { size: 20, bold: true });
  for (const input of inputs) {
    divider(sheet, input);
    clampAndBuffer(sheet, input);
    law(sheet, input);
  }
  bias(sheet);
  return sheet;
}
