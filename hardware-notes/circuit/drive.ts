import { COMMON } from '../../firmware-ts/board/netlist';
import { elements } from '../../firmware-ts/board/reference-design';
import { diode, placed, twoEnds, type Component } from './component';
import { kinds } from './kinds';

/** Relays with their drivers, the two coil supplies, the one-shots. */

const suppressor = 'Diode_THT:D_DO-15_P12.70mm_Horizontal';
const LIMITER_RELAY = elements.length + 1;
const OUTPUT_RELAY = elements.length + 2;

/** Nodes of the path that a contact lies across: an element's, the limiter's, or the output's own. */
function contactNodes(relay: number): readonly [string, string] {
  if (relay === OUTPUT_RELAY) return ['FUSED', 'BEHIND-K16'];
  if (relay === LIMITER_RELAY) return ['BEHIND-K16', `CHAIN-${elements.length}`];
  return [`CHAIN-${relay}`, relay === 1 ? 'SHUNT+' : `CHAIN-${relay - 1}`];
}

/** Relay number n with its transistor, gate resistors and clamp diode. */
function driver(relay: number): Component[] {
  const isOutput = relay === OUTPUT_RELAY;
  const [from, to] = contactNodes(relay);
  const coil = `COIL-K${relay}`;
  const gate = `GATE-K${relay}`;
  return [
    placed(`K${relay}`, isOutput ? kinds.outputRelay : kinds.signalRelay, {
      'COIL+': isOutput ? 'OUTPUT-RAIL' : 'CHAIN-RAIL',
      'COIL−': coil,
      COM: from,
      MAKE: to,
    }),
    placed(`Q${relay}`, kinds.nChannel, { S: COMMON, G: gate, D: coil }),
    twoEnds(`R${100 + relay}`, '100 Ω', [`DRIVE-K${relay}`, gate]),
    twoEnds(`R${120 + relay}`, '8.2 kΩ', [gate, COMMON]),
    diode(`D${1 + relay}`, '1N4148', [coil, 'CLAMP-BUS']),
  ];
}

const clamps: readonly Component[] = [
  diode('D19', 'P6KE15A', ['5 VL', 'CLAMP-BUS'], suppressor),
  twoEnds('D18', 'P6KE15CA', ['CHAIN-RAIL', COMMON], suppressor),
  twoEnds('D37', 'P6KE15CA', ['OUTPUT-RAIL', COMMON], suppressor),
];

const lamp: readonly Component[] = [
  twoEnds('R64', '470 Ω', ['OUTPUT-RAIL', 'LAMP-FEED']),
  diode('D39', '1N4148', ['LAMP-FEED', 'LAMP']),
  { ...diode('D38', 'red LED', ['LAMP', `COIL-K${OUTPUT_RELAY}`], 'LED_THT:LED_D5.0mm'), place: 'case' },
];

const shots = placed('U8', kinds.oneShot, {
  'FIRE↓a': COMMON,
  'FIRE↑a': 'PULSE',
  CLEARa: 'CLEAR-N',
  Qa: 'ALIVE',
  Ca: 'U8A-C',
  RCa: 'U8A-RC',
  'FIRE↓b': 'ALIVE',
  'FIRE↑b': '3V3',
  CLEARb: '3V3',
  Qb: 'HOLD',
  Cb: 'U8B-C',
  RCb: 'U8B-RC',
  GND: COMMON,
  VCC: '3V3',
});

const rails: readonly Component[] = [
  twoEnds('R51', '1 kΩ', ['ALIVE', 'OUTPUT-GATE']),
  placed('Q18', kinds.nChannel, { S: COMMON, G: 'OUTPUT-GATE', D: 'OUTPUT-P-GATE' }),
  twoEnds('R52', '8.2 kΩ', ['OUTPUT-GATE', COMMON]),
  twoEnds('R53', '10 kΩ', ['5 VL', 'OUTPUT-P-GATE']),
  placed('Q17', kinds.pChannel, { G: 'OUTPUT-P-GATE', S: '5 VL', D: 'OUTPUT-RAIL' }),
  diode('D32', 'BAT85', ['ALIVE', 'CHAIN-GATE']),
  diode('D33', 'BAT85', ['HOLD', 'CHAIN-GATE']),
  placed('Q27', kinds.nChannel, { S: COMMON, G: 'CHAIN-GATE', D: 'CHAIN-P-GATE' }),
  twoEnds('R60', '8.2 kΩ', ['CHAIN-GATE', COMMON]),
  twoEnds('R61', '10 kΩ', ['5 VH', 'CHAIN-P-GATE']),
  placed('Q26', kinds.pChannel, { G: 'CHAIN-P-GATE', S: '5 VH', D: 'CHAIN-RAIL' }),
  diode('D34', '1N5820', ['5 VL', '5 VH'], 'Diode_THT:D_DO-201AD_P15.24mm_Horizontal'),
  diode('D35', '1N5820', ['RESERVOIR', '5 VH'], 'Diode_THT:D_DO-201AD_P15.24mm_Horizontal'),
  diode('D36', '1N5818', ['5 VL', 'CHARGE'], 'Diode_THT:D_DO-41_SOD81_P10.16mm_Horizontal'),
  placed('U14', kinds.supervisor, { 'RESET-N': 'CLEAR-N', VDD: '5 VL', GND: COMMON }),
  twoEnds('R58', '1 kΩ', ['CLEAR-N', 'TRIP-N']),
  diode('D24', 'BAT85', [COMMON, 'RAIL-SENSE']),
];

export const driveComponents: readonly Component[] = [
  ...Array.from({ length: OUTPUT_RELAY }, (_, index) => driver(index + 1)).flat(),
  ...clamps,
  ...lamp,
  shots,
  ...rails,
];
