/**
 * One type for each line of the parts list. `read`: what its data sheet was read for; without it the type is from memory and
 * has to be compared with the columns beside it. A type is an example: any other that keeps to the column "part" will do.
 */
export type PartType = { readonly type: string; readonly read?: string };

const memory = (type: string): PartType => ({ type });
const read = (type: string, what: string): PartType => ({ type, read: what });

const WOUND = '1 % from 0.1 Ω up; temperature coefficient not in the text read: compare';
const wound = (series: string, watt: number, size = ''): PartType =>
  read(`${series}, 1 %, value as asked`, `${watt} W at 25 °C; ${size}${WOUND}`);
const SMALL_WOUND = 'body at most 15.8 mm long, 5.5 mm thick; ';
const FILM = 'MRS25, 0.6 W, 1 %, 50 ppm/K';

/** By the references of the line. */
export const partTypes: Readonly<Record<string, PartType>> = {
  R1: wound('RS02B', 3, SMALL_WOUND),
  R2: wound('RS02B', 3, SMALL_WOUND),
  R3: wound('RS02B', 3, SMALL_WOUND),
  R4: wound('RS02B', 3, SMALL_WOUND),
  R5: wound('RS02B', 3, SMALL_WOUND),
  R6: wound('RS005', 5),
  R7: wound('RS007', 7),
  R8: wound('RS005', 5),
  R9: wound('RS02B', 3, SMALL_WOUND),
  R10: memory('CPF2, 2 W, 1 %'),
  R11: memory('CPF1, 1 W, 1 %'),
  R12: memory(FILM),
  R13: memory(FILM),
  R14: memory(FILM),
  R15: memory('AC10, 47 Ω, 5 %'),
  R16: memory(FILM),
  F1: memory('0217.500, 5 × 20 mm'),
  F4: read(
    '0216002, 5 × 20 mm',
    'series 216SP: ceramic, 1500 A at 250 V AC, 76 mΩ cold, 1.9 A²s; what it breaks at 14 V DC is not stated',
  ),
  D1: memory('1.5KE39CA (stand-off 33.3 V)'),
  'K1–K15': read(
    'G6S-2 DC5',
    '178 Ω, 28.1 mA; 2 A 30 V DC; gold-clad twin contacts, 75 mΩ; operate, release ≤ 4 ms; sealed',
  ),
  K16: read(
    'PA1a-5V',
    '208 Ω, 24 mA (the drive is reckoned for 40 mA); 120 mW; 5 A 30 V DC, gold-clad, from 100 µA; 30 mΩ; pins at 0, 5.08, 15.24, 17.78 mm; operate about 6 ms, release about 3 ms without a diode: typical, so measure yours',
  ),
  'R20, R22': memory('CMF60, 10 MΩ, 1 %, 50 ppm/K'),
  'R21, R23–R27': memory('MRS25, 1 MΩ, 1 %'),
  'C20–C23': memory('K102J15C0GF5'),
  'D20–D23': read('BAV199, SOT-23', '75 V; 3 pA typical, 5 nA at most; 1 anode, 2 cathode, 3 middle'),
  'U1, U2': read(
    'MCP6V69-E/ST, TSSOP-14',
    '1.8 to 5.5 V, rail to rail, 25 µV, zero drift; input current and ending of the name from memory: compare',
  ),
  U6: read('MCP6V67-E/MS, MSOP-8', 'as U1'),
  'U4, U5': read(
    'ADS122C04IPW, TSSOP-16',
    'addresses 0x40 and 0x45 by A0, A1; pins of the TSSOP; map of the configuration registers; the bytes of the table below stand in public drivers of this type',
  ),
  U16: read(
    'REF5025AID, SO-8',
    'pins, in the automotive edition; 0.1 %, 8 ppm/K and that it wants C93 are from memory: compare',
  ),
  'R30–R33': memory('YR1B, 0.1 %, 15 ppm/K, one batch'),
  'R34–R37': read(
    'LT5400ACMS8E-2, MSOP-8: R34 is pins 1, 8; R35 is 2, 7; R36 is 3, 6; R37 is 4, 5',
    'grade A: every ratio within 0.01 %, values themselves within 7.5 % (its maker’s answer to a user, not the sheet); 100 kΩ and pins from memory: compare',
  ),
  'R38–R40, R43–R45': memory(FILM),
  'R46, C24': memory('MRS25; MKS2, 1 µF, 63 V, 10 %'),
  U3: read(
    'MCP6549-I/P, DIP-14',
    'four, open drain up to 10 V, inputs beyond both supplies, 4 µs, 3.3 mV of hysteresis; ending of the name from memory: compare',
  ),
  'U7, U9': memory('CD74HC27E and CD74HC4002E, DIP-14'),
  'R17, R18': memory('PTF56, 0.1 %, 10 ppm/K'),
  'Q1–Q16, Q18, Q21, Q25, Q27': read(
    'TN0106N3-G',
    '60 V, 0.35 A, threshold 2.0 V at most, leads S, G, D; at 3.3 V and 40 mA measure below 0.3 V',
  ),
  'Q17, Q22–Q24, Q26': read(
    'AO3401A, SOT-23; Q24: FDS6679AZ, SO-8',
    'AO3401A: 30 V, gate ±12 V, 4 A, below 60 mΩ at 4.5 V and 85 mΩ at 2.5 V on the gate; Q24 from memory: compare',
  ),
  Q20: memory('IRF9540N'),
  'D2–D17': memory('1N4148'),
  D19: memory('P6KE15A (stand-off 12.8 V)'),
  'D18, D37': memory('P6KE15CA (stand-off 12.8 V)'),
  'D24, D32, D33': memory('BAT85'),
  U8: read(
    'CD74HC423E, DIP-16',
    'edge fired, both signs; 0.45 · R · C above 10 nF; its clear input cannot fire it. Not a 74HC123, which fires when CLEAR-N rises while PULSE is high. Maker’s prefix from memory: compare',
  ),
  'R50, C50': memory('MRS25; MKS2, 1 µF, 63 V, 5 %'),
  'R57, C51': memory('MRS25; MKS2, 1 µF, 63 V, 5 %'),
  C52: memory('EEU-FR1A562, 16 mm thick'),
  'D34–D36': memory('1N5820 (D34, D35); 1N5818 (D36)'),
  R59: memory('PR01, 22 Ω, 1 W'),
  U14: read(
    'MCP120-450DI/TO',
    'open drain, low down to 1.0 V, ± 125 mV for 5 V systems, lets go about 350 ms after the supply is back; that 450 is 4.25 to 4.50 V and what bond-out D is: from memory, compare',
  ),
  'D38, D39, R64': memory('red, 5 mm, 20 mA; 1N4148; MRS25'),
  'R101–R116': memory(FILM),
  'R121–R136, R52, R97, R56, R60, R49': memory(FILM),
  U10: memory('Raspberry Pi Pico, or Pico 2'),
  U11: read(
    'ISO7721DWV, wide SO-8',
    'pins of the wide body; that it is high by default without the letter F is read of its sister ISO7821',
  ),
  U12: memory('module with an FT232R or CP2102, set to 3.3 V'),
  U15: read(
    'TMR 9-2411WI',
    '9 to 36 V in, 5 V 1.6 A out, 1600 V DC; what capacitance it starts with was not in the text read: compare',
  ),
  F2: read(
    '0215001, 5 × 20 mm, ceramic: a battery drives more than a glass fuse breaks',
    'series 215: ceramic, time-lag, high breaking capacity; its figure was not in the text read: compare',
  ),
  'D25, D31': memory('1.5KE39CA; P6KE39A (stand-off 33.3 V)'),
  D27: memory('1N5818'),
  D26: memory('BZX55C12'),
  'D28–D30': memory('BAT85; D30: SB160'),
  F3: memory('MF-R005'),
  'R90, R92–R96': memory(FILM),
  'R51, R58, R53, R55, R61, R41, R42, R47, R48, R54, R63': memory(FILM),
  'R70–R72': memory(FILM),
  'R91, C90–C92': memory('MRS25; EEU-FR1H471; EEU-FR1A101; EEU-FR1A471'),
  'C93, C94': memory('ceramic, X7R, 10 V or more'),
  'C101–C115': memory('ceramic, X7R, 50 V'),
  'J1, J2': memory('four-pole circular plug and socket, 5 A; clips for 10 A'),
  'R65–R68': memory('MRS25, in two layers of heat-shrink'),
  'J3, J4': memory('4 mm safety plug and socket, one colour each'),
  J5: memory('two-pole circular plug and socket, keyed'),
  J6: memory('that of the module'),
  'J7, J8': memory('4 mm stud; shroud printed or turned from plastic'),
  case: memory('any of the size in the drilling plan'),
};
