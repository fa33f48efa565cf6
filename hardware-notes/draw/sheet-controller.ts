import { pins } from '../../firmware-ts/board/reference-design';
import { isolationColour, Sheet } from './sheet';
import { chip } from './chips';
import { common, flag, foreignGround, netName, rail, twoTerminal } from './symbols';

type Line = readonly [pin: string, net: string];

const relayLines: readonly Line[] = [
  ...pins.elements.map((gpio, index): Line => [`GP${gpio}`, `DRIVE-K${index + 1}`]),
  [`GP${pins.limiterBypass}`, 'DRIVE-K15'],
  [`GP${pins.output}`, 'DRIVE-K16'],
];

const otherLines: readonly Line[] = [
  [`GP${pins.serialTransmit}`, ''],
  [`GP${pins.serialReceive}`, ''],
  [`GP${pins.deadManPulse}`, 'PULSE'],
  [`GP${pins.hardwareTrip}`, 'TRIP-N'],
  [`GP${pins.meterData}`, 'METER-SDA'],
  [`GP${pins.meterClock}`, 'METER-SCL'],
  [`GP${pins.meterReady}`, 'METER-READY'],
  [`GP${pins.ohmmeterLow}`, 'OHM-LOW'],
  [`GP${pins.ohmmeterHigh}`, 'OHM-HIGH'],
  [`GP${pins.railSense}`, 'RAIL-SENSE'],
  ['VSYS', 'VSYS-5V'],
  ['3V3 OUT', '3V3'],
  ['GND', ''],
];

function controller(sheet: Sheet): (pin: string) => readonly [number, number] {
  const find = chip(sheet, {
    at: [300, 150],
    width: 300,
    title: ['U10  controller module', 'RP2040 or RP2350, 40 pins'],
    of: 'U10',
    left: relayLines.map(([name]) => ({ name })),
    right: otherLines.map(([name]) => ({ name })),
    pitch: 40,
    top: 70,
  });
  for (const [pin, net] of relayLines) flag(sheet, find(pin), 'left', net);
  for (const [pin, net] of otherLines) if (net !== '') flag(sheet, find(pin), 'right', net);
  const ground = find('GND');
  sheet.wire(ground, [ground[0] + 40, ground[1]]);
  common(sheet, ground[0] + 40, ground[1]);
  return find;
}

function serialLine(sheet: Sheet, find: (pin: string) => readonly [number, number]): void {
  const transmit = find(`GP${pins.serialTransmit}`);
  const receive = find(`GP${pins.serialReceive}`);
  const isolator = chip(sheet, {
    at: [900, transmit[1] - 70],
    width: 190,
    title: ['U11  isolator', 'two channels'],
    of: 'U11',
    left: [{ name: 'IN B' }, { name: 'OUT A' }, { name: 'VDD1' }, { name: 'GND1' }],
    right: [{ name: 'OUT B' }, { name: 'IN A' }, { name: 'VDD2' }, { name: 'GND2' }],
    pitch: 40,
    top: 70,
  });
  sheet.wire(transmit, isolator('IN B'));
  sheet.wire(receive, isolator('OUT A'));
  flag(sheet, isolator('VDD1'), 'left', '3V3');
  const near = isolator('GND1');
  sheet.wire(near, [near[0] - 30, near[1]]);
  common(sheet, near[0] - 30, near[1]);
  const bridge = chip(sheet, {
    at: [1270, transmit[1] - 70],
    width: 190,
    title: ['U12  USB bridge', 'USB to serial, 3.3 V'],
    of: 'U12',
    left: [{ name: 'RXD' }, { name: 'TXD' }, { name: '3V3 OUT' }, { name: 'GND' }],
    right: [{ name: 'VBUS' }, { name: 'D+' }, { name: 'D−' }, { name: 'SHIELD' }],
    pitch: 40,
    top: 70,
  });
  sheet.wire(isolator('OUT B'), bridge('RXD'));
  sheet.wire(isolator('IN A'), bridge('TXD'));
  sheet.wire(isolator('VDD2'), bridge('3V3 OUT'));
  sheet.wire(isolator('GND2'), bridge('GND'));
  const mid: readonly [number, number] = [1180, isolator('GND2')[1]];
  sheet.dot(mid[0], mid[1]);
  foreignGround(sheet, mid, 'PC 0 V', 'PC-0V');
  flag(sheet, bridge('D+'), 'right', 'J6 USB D+');
  flag(sheet, bridge('D−'), 'right', 'J6 USB D-');
  flag(sheet, bridge('VBUS'), 'right', 'J6 USB 5 V');
  flag(sheet, bridge('SHIELD'), 'right', 'J6 SHELL');
}

function barrier(sheet: Sheet): void {
  sheet.path('M995 100 V146 M995 206 V520', { colour: isolationColour, width: 2.4, dash: '9 7' });
  sheet.text(995, 545, 'isolation barrier', { anchor: 'middle', bold: true, colour: isolationColour });
  sheet.note(880, 590, [
    'Left of the barrier: box common, the GROUND clip. Right of it: the PC. Nothing crosses but two',
    'light or coupled signals. The shell of J6 joins the PC side only and does not touch a metal case;',
    'keep 8 mm of bare board under the barrier and no copper plane across it.',
    'The barrier is there for ground loops and for the gauge, not as protection from mains:',
    'run the PC on battery, or on a supply that carries its own safety approval.',
  ]);
}

function small(sheet: Sheet): void {
  const y = 790;
  for (const [x, name, net] of [
    [960, 'R70', 'METER-SDA'],
    [1080, 'R71', 'METER-SCL'],
  ] as const) {
    rail(sheet, x, y, '3V3');
    twoTerminal(sheet, 'resistor', { at: [x, y], down: true, name, value: ['4.7 kΩ'] });
    netName(sheet, [x, y + 80], net, [x, y + 98]);
  }
  netName(sheet, [1200, y], 'TRIP-N', [1200, y - 10]);
  twoTerminal(sheet, 'resistor', { at: [1200, y], down: true, name: 'R72', value: ['4.7 kΩ'] });
  common(sheet, 1200, y + 80);
  netName(sheet, [1290, y], 'PULSE', [1290, y - 10]);
  twoTerminal(sheet, 'resistor', { at: [1290, y], down: true, name: 'R56', value: ['8.2 kΩ'] });
  common(sheet, 1290, y + 80);
  rail(sheet, 690, y, '5 VH');
  twoTerminal(sheet, 'diode', { at: [690, y], name: 'D27', value: ['Schottky 1 A'] });
  flag(sheet, [770, y], 'right', 'VSYS-5V');
  sheet.note(1400, 800, [
    'Without D27 the module’s USB, while the',
    'firmware is loaded, would feed the box.',
    'It hangs on 5 VH: the gates of K1 to K15',
    'must outlive the box’s supply as well.',
    'No pin of the module meets a lead without',
    'a resistor of 100 Ω or more in between.',
  ]);
}

/** The controller, its pins, and the isolated way to the PC. */
export function controllerSheet(number: number, of: number): Sheet {
  const sheet = new Sheet({ title: 'Controller and PC side', number, of, width: 1760, height: 1060 });
  sheet.text(50, 70, 'Controller and the way to the PC', { size: 20, bold: true });
  serialLine(sheet, controller(sheet));
  barrier(sheet);
  small(sheet);
  return sheet;
}
