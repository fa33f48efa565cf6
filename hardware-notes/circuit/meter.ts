import { COMMON } from '../../firmware-ts/board/netlist';
import { UNCONNECTED, placed, twoEnds, type Component } from './component';
import { kinds } from './kinds';

/** What the simulated board works out by laws instead of by nodes: amplifiers, converters, comparators, gates. */

const clamp = (reference: string, node: string): Component =>
  placed(reference, kinds.clampDiodes, { A: COMMON, K: '5 VA', MID: node });

const amplifiers: readonly Component[] = [
  placed('U1', kinds.quadAmplifier, {
    '+a': 'TERMINAL-IN',
    '−a': 'V-TERMINAL',
    OUTa: 'V-TERMINAL',
    '+b': 'SUPPLY-IN',
    '−b': 'V-SUPPLY',
    OUTb: 'V-SUPPLY',
    '+c': 'GROUND-IN',
    '−c': 'V-GROUND',
    OUTc: 'V-GROUND',
    '+d': 'OFFSET-IN',
    '−d': 'V-OFFSET',
    OUTd: 'V-OFFSET',
    'V+': '5 VA',
    'V−': COMMON,
  }),
  placed('U2', kinds.quadAmplifier, {
    '+a': 'REF',
    '−a': 'BIAS',
    OUTa: 'BIAS',
    '+b': 'CURRENT-PLUS',
    '−b': 'CURRENT-MINUS',
    OUTb: 'V-CURRENT',
    '+c': 'REFERENCE-PLUS',
    '−c': 'REFERENCE-MINUS',
    OUTc: 'V-REFERENCE',
    '+d': 'SOURCE-SET',
    '−d': 'REF-FOOT',
    OUTd: 'SOURCE-GATE',
    'V+': '5 VA',
    'V−': COMMON,
  }),
  placed('U6', kinds.dualAmplifier, {
    '+a': 'REF-FOOT',
    '−a': 'FOOT-BUFFERED',
    OUTa: 'FOOT-BUFFERED',
    '+b': 'REF-TOP',
    '−b': 'TOP-BUFFERED',
    OUTb: 'TOP-BUFFERED',
    'V+': '5 VA',
    'V−': COMMON,
  }),
];

const converter = (reference: string, address: string, nets: Readonly<Record<string, string>>): Component =>
  placed(reference, kinds.converter, {
    A0: address,
    A1: address,
    'RESET-N': '3V3',
    DGND: COMMON,
    AVSS: COMMON,
    IN3: 'BIAS',
    'REF+': 'REF',
    'REF−': COMMON,
    AVDD: '5 VA',
    DVDD: '3V3',
    SDA: 'METER-SDA',
    SCL: 'METER-SCL',
    ...nets,
  });

const converters: readonly Component[] = [
  // Both address pins at common: 0x40. Both at 3V3: 0x45.
  converter('U4', COMMON, { IN0: 'V-TERMINAL', IN1: 'V-SUPPLY', IN2: 'V-GROUND', READY: UNCONNECTED }),
  converter('U5', '3V3', { IN0: 'V-CURRENT', IN1: 'V-OFFSET', IN2: 'V-REFERENCE', READY: 'METER-READY' }),
  placed('U16', kinds.reference, { IN: '5 VA', GND: COMMON, OUT: 'REF' }),
];

const trip: readonly Component[] = [
  placed('U3', kinds.quadComparator, {
    '+a': 'V-CURRENT',
    '−a': 'AT-ONCE-HIGH',
    OUTa: 'S1',
    '+b': 'AT-ONCE-LOW',
    '−b': 'V-CURRENT',
    OUTb: 'S4',
    '+c': 'I-SLOW',
    '−c': 'SLOW-HIGH',
    OUTc: 'S2',
    '+d': 'SLOW-LOW',
    '−d': 'I-SLOW',
    OUTd: 'S3',
    'V+': '5 VA',
    'V−': COMMON,
  }),
  placed('U9', kinds.dualNor, {
    Aa: 'S1',
    Ba: 'S2',
    Ca: 'S3',
    Da: 'S4',
    Ya: 'QUIET',
    Ab: 'NOT-DRIVE',
    Bb: 'TRIP-N',
    Cb: COMMON,
    Db: COMMON,
    Yb: 'LATCH-Q',
    GND: COMMON,
    VCC: '3V3',
  }),
  placed('U7', kinds.tripleNor, {
    Aa: 'QUIET',
    Ba: COMMON,
    Ca: COMMON,
    Ya: 'NOT-QUIET',
    Ab: 'DRIVE-K16',
    Bb: COMMON,
    Cb: COMMON,
    Yb: 'NOT-DRIVE',
    Ac: 'NOT-QUIET',
    Bc: 'LATCH-Q',
    Cc: COMMON,
    Yc: 'TRIP-N',
    GND: COMMON,
    VCC: '3V3',
  }),
  twoEnds('R41', '10 kΩ', ['3V3', 'S1']),
  twoEnds('R42', '10 kΩ', ['3V3', 'S2']),
  twoEnds('R47', '10 kΩ', ['3V3', 'S3']),
  twoEnds('R48', '10 kΩ', ['3V3', 'S4']),
  twoEnds('R49', '8.2 kΩ', ['QUIET', COMMON]),
];

export const meterComponents: readonly Component[] = [
  ...amplifiers,
  ...converters,
  ...trip,
  clamp('D20', 'TERMINAL-IN'),
  clamp('D21', 'SUPPLY-IN'),
  clamp('D22', 'GROUND-IN'),
  clamp('D23', 'OFFSET-IN'),
];
