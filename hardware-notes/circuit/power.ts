import { COMMON } from '../../firmware-ts/board/netlist';
import { pins } from '../../firmware-ts/board/reference-design';
import { diode, electrolytic, inLead, placed, twoEnds, type Component } from './component';
import { kinds } from './kinds';

/** Controller and PC side, power input, ohmmeter source, leads and posts. */

/** Zero volts of the supply's side and of the PC's side: neither is box common. */
export const INPUT_ZERO = 'INPUT-0V';
export const PC_ZERO = 'PC-0V';

const round = 'Capacitor_THT:CP_Radial_D10.0mm_P5.00mm';
const suppressorLarge = 'Diode_THT:D_DO-201AE_P15.24mm_Horizontal';
const suppressorSmall = 'Diode_THT:D_DO-15_P12.70mm_Horizontal';
const rectifier = 'Diode_THT:D_DO-41_SOD81_P10.16mm_Horizontal';

const relayNets = Object.fromEntries(
  [...pins.elements, pins.limiterBypass, pins.output].map((gpio, index) => [
    `GP${gpio}`,
    `DRIVE-K${index + 1}`,
  ]),
);

const controller: readonly Component[] = [
  placed('U10', kinds.controller, {
    ...relayNets,
    [`GP${pins.serialTransmit}`]: 'SERIAL-OUT',
    [`GP${pins.serialReceive}`]: 'SERIAL-IN',
    [`GP${pins.deadManPulse}`]: 'PULSE',
    [`GP${pins.hardwareTrip}`]: 'TRIP-N',
    [`GP${pins.meterData}`]: 'METER-SDA',
    [`GP${pins.meterClock}`]: 'METER-SCL',
    [`GP${pins.meterReady}`]: 'METER-READY',
    [`GP${pins.ohmmeterLow}`]: 'OHM-LOW',
    [`GP${pins.ohmmeterHigh}`]: 'OHM-HIGH',
    [`GP${pins.railSense}`]: 'RAIL-SENSE',
    VSYS: 'VSYS-5V',
    '3V3 OUT': '3V3',
    GND: COMMON,
  }),
  diode('D27', '1N5818', ['5 VH', 'VSYS-5V'], rectifier),
  twoEnds('R56', '8.2 kΩ', ['PULSE', COMMON]),
  twoEnds('R70', '4.7 kΩ', ['3V3', 'METER-SDA']),
  twoEnds('R71', '4.7 kΩ', ['3V3', 'METER-SCL']),
  twoEnds('R72', '4.7 kΩ', ['TRIP-N', COMMON]),
  placed('U11', kinds.isolator, {
    VDD1: '3V3',
    'OUT A': 'SERIAL-IN',
    'IN B': 'SERIAL-OUT',
    GND1: COMMON,
    GND2: PC_ZERO,
    'OUT B': 'PC-RXD',
    'IN A': 'PC-TXD',
    VDD2: 'PC-3V3',
  }),
  placed(
    'U12',
    kinds.bridge,
    {
      '3V3 OUT': 'PC-3V3',
      TXD: 'PC-TXD',
      RXD: 'PC-RXD',
      GND: PC_ZERO,
      VBUS: 'J6 USB 5 V',
      'D+': 'J6 USB D+',
      'D−': 'J6 USB D-',
      SHIELD: 'J6 SHELL',
    },
    'case',
  ),
  placed(
    'J6',
    kinds.usbSocket,
    { VBUS: 'J6 USB 5 V', 'D+': 'J6 USB D+', 'D−': 'J6 USB D-', GND: PC_ZERO, SHIELD: 'J6 SHELL' },
    'case',
  ),
];

const input: readonly Component[] = [
  placed('X5', kinds.clip, { JAW: 'SUPPLY+' }, 'lead'),
  placed('X6', kinds.clip, { JAW: INPUT_ZERO }, 'lead'),
  inLead(twoEnds('F2', '1 A slow', ['SUPPLY+', 'DC-IN'])),
  placed('J5', kinds.supplyPoles, { '+': 'DC-IN', '−': INPUT_ZERO }, 'case'),
  twoEnds('D25', '1.5KE39CA', ['DC-IN', INPUT_ZERO], suppressorLarge),
  placed('Q20', kinds.pChannelInput, { G: 'INPUT-GATE', D: 'DC-IN', S: 'DC-SAFE' }),
  twoEnds('R90', '10 kΩ', ['INPUT-GATE', INPUT_ZERO]),
  diode('D26', 'BZX55C12', ['INPUT-GATE', 'DC-SAFE']),
  electrolytic('C90', '470 µF 50 V', ['DC-SAFE', INPUT_ZERO], round),
  placed('U15', kinds.isolatedSupply, {
    'IN +': 'DC-SAFE',
    'IN −': INPUT_ZERO,
    'OUT +': '5 VL',
    'OUT −': COMMON,
  }),
  electrolytic('C92', '470 µF 10 V', ['5 VL', COMMON], round),
  twoEnds('R91', '2.2 Ω', ['5 VL', '5 VA']),
  electrolytic('C91', '100 µF', ['5 VA', COMMON], round),
  twoEnds('C94', '1 µF', ['5 VA', COMMON]),
  twoEnds('C93', '10 µF', ['REF', COMMON]),
];

const source: readonly Component[] = [
  diode('D28', 'BAT85', ['OHM-LOW', 'SOURCE-ON']),
  diode('D29', 'BAT85', ['OHM-HIGH', 'SOURCE-ON']),
  placed('Q21', kinds.nChannel, { S: COMMON, G: 'SOURCE-ON', D: 'SOURCE-ON-N' }),
  twoEnds('R92', '100 kΩ', ['SOURCE-ON', COMMON]),
  twoEnds('R93', '100 kΩ', ['5 VA', 'SOURCE-ON-N']),
  placed('Q22', kinds.pChannel, { G: 'SOURCE-ON-N', S: '5 VA', D: 'REF-TOP' }),
  placed('Q24', kinds.pChannelLow, { G: 'HIGH-N', S: 'REF-TOP', D: 'REF-HIGH' }),
  placed('Q25', kinds.nChannel, { S: COMMON, G: 'OHM-HIGH', D: 'HIGH-N' }),
  twoEnds('R96', '100 kΩ', ['REF-TOP', 'HIGH-N']),
  twoEnds('R97', '8.2 kΩ', ['OHM-HIGH', COMMON]),
  placed('Q23', kinds.pChannel, { G: 'SOURCE-GATE', S: 'REF-FOOT', D: 'SOURCE-OUT' }),
  diode('D30', 'SB160', ['SOURCE-OUT', 'POST-INNER'], rectifier),
  diode('D31', 'P6KE39A', [COMMON, 'POST-INNER'], suppressorSmall),
  twoEnds('F3', '50 mA PTC', ['POST-INNER', 'CAL+'], 'Capacitor_THT:C_Disc_D5.0mm_W2.5mm_P5.00mm'),
  placed('J7', kinds.post, { POST: 'CAL+' }, 'case'),
  placed('J8', kinds.post, { POST: COMMON }, 'case'),
];

const leads: readonly Component[] = [
  placed('X1', kinds.clip, { JAW: 'SENDER' }, 'lead'),
  placed('X2', kinds.clip, { JAW: 'GROUND' }, 'lead'),
  placed('X3', kinds.clip, { JAW: 'FEED' }, 'lead'),
  placed('X4', kinds.clip, { JAW: 'BATTERY-NEG' }, 'lead'),
  placed('J1', kinds.fourPole, { FORCE: 'FUSED', SENSE: 'SENDER-SENSE' }, 'case'),
  placed('J2', kinds.fourPole, { FORCE: COMMON, SENSE: 'GROUND-SENSE' }, 'case'),
  placed('J3', kinds.sensePole, { SENSE: 'FEED-SENSE' }, 'case'),
  placed('J4', kinds.sensePole, { SENSE: 'BATTERY-NEG-SENSE' }, 'case'),
];

export const powerComponents: readonly Component[] = [...controller, ...input, ...source, ...leads];
