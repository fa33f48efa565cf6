import {
  converter,
  deadMan,
  elements,
  outputRelay,
  path,
  relay,
} from '../../firmware-ts/board/reference-design';
import { ohmText, wattText, type Row } from './format';

/** One line of the parts list: references on the drawings, how many, what to ask for, and why it must be so. */
export type PartLine = {
  readonly references: string;
  readonly count: number;
  readonly part: string;
  readonly why: string;
};

const elementLines: readonly PartLine[] = elements.map((element) => ({
  references: element.name,
  count: 1,
  part: `${ohmText(element.nominalMilliohm)} ${element.tolerancePercent} %, ${wattText(element.ratedMilliwatt)} ${element.construction === 'wirewound' ? 'wirewound' : 'metal film'}, 50 ppm/K`,
  why: 'ladder element; rating from the table of worst dissipations',
}));

const pathLines: readonly PartLine[] = [
  {
    references: 'R15',
    count: 1,
    part: `${ohmText(path.limiter.milliohm)} ${path.limiter.tolerancePercent} %, ${wattText(path.limiter.ratedMilliwatt)} wirewound, ceramic case`,
    why: 'limiter: 4.2 W at the current limit, 5.4 W on a bare 16 V feed until the guard acts',
  },
  {
    references: 'R16',
    count: 2,
    part: '1 Ω 1 %, 0.6 W metal film, in parallel',
    why: 'shunt: 45 mW at 300 mA; two parts share heat and give four solder joints to sense between',
  },
  {
    references: 'F1',
    count: 1,
    part: `${path.fuse.ratedMilliamp / 1000} A fast glass fuse in an in-line holder, SENDER lead`,
    why: 'above 300 mA working current, below what a gauge heater bears for long',
  },
  {
    references: 'D1',
    count: 1,
    part: `two-way suppressor, ${path.suppressor.standoffMillivolt / 1000} V stand-off, ${path.suppressor.peakWatt} W`,
    why: 'stays off at a 24 V jump start; two-way so that swapped clips draw nothing',
  },
  {
    references: 'K1–K15',
    count: 15,
    part: `two-pole change-over signal relay, 5 V coil, ${relay.coilMilliamp} mA, 2 A gold-clad contacts, sealed`,
    why: 'low-level contacts; both poles in parallel halve the contact resistance',
  },
  {
    references: 'K16',
    count: 1,
    part: `one make contact, 5 A 30 V DC, gold-plated, 5 V coil, ${outputRelay.coilMilliamp} mA`,
    why: 'must open 6 A once if a gauge shorts; gold so that 5 mA still wets it',
  },
];

const meterLines: readonly PartLine[] = [
  {
    references: 'R20, R22',
    count: 2,
    part: '10 MΩ 1 %, 50 ppm/K, 500 V film',
    why: 'dividers; load the terminals by 11 MΩ only; the self-calibration finds their ratio, 1 % will do',
  },
  { references: 'R21, R23–R27', count: 6, part: '1 MΩ 1 %, 50 ppm/K film', why: 'dividers to bias' },
  {
    references: 'C20–C23',
    count: 4,
    part: '1 nF C0G',
    why: 'with the dividers 0.5 to 0.9 ms, settled within one conversion',
  },
  {
    references: 'D20–D23',
    count: 4,
    part: 'low-leakage dual diode, typically below 50 pA at room temperature',
    why: 'clamp; 50 pA through 0.9 MΩ read as 0.5 mV at the clip, ordinary diodes leak a thousand times as much',
  },
  {
    references: 'U1, U2',
    count: 2,
    part: 'quad zero-drift CMOS operational amplifier, rail to rail, 5 V, input current below 50 pA',
    why: 'buffers, difference amplifiers, ohmmeter',
  },
  {
    references: 'U6',
    count: 1,
    part: 'single amplifier of the same kind',
    why: 'follower at the foot of the ohmmeter reference',
  },
  {
    references: 'U4, U5',
    count: 2,
    part: `${converter.bits}-bit delta-sigma converter, 4 inputs, I²C, external reference input`,
    why: 'two, so that volts and amperes are taken at the same moment',
  },
  {
    references: 'U16',
    count: 1,
    part: '2.500 V reference, 0.1 %, 25 ppm/K',
    why: 'shared: it cancels in every resistance',
  },
  {
    references: 'R30–R33',
    count: 4,
    part: '10 kΩ (2) and 100 kΩ (2), 0.1 %, one network or one batch',
    why: 'gain 10 on the shunt; the self-calibration takes off the zero their mismatch leaves, up to 1.8 mA',
  },
  {
    references: 'R34–R37',
    count: 4,
    part: '100 kΩ, one network with 0.05 % ratio',
    why: 'gain 1 on the ohmmeter reference: nothing corrects this ratio, every resistance hangs on it',
  },
  {
    references: 'R38–R40',
    count: 3,
    part: '1 kΩ, 8.06 kΩ, 1 kΩ, 1 %',
    why: 'trip thresholds 4.50 V and 0.50 V',
  },
  {
    references: 'U3',
    count: 1,
    part: 'dual open-drain comparator, rail-to-rail input',
    why: 'hardware trip, both signs',
  },
  {
    references: 'U7',
    count: 1,
    part: 'triple three-input NOR gate, CMOS, on 3V3',
    why: 'latch and inverter; a lost comparator reads as a trip',
  },
  {
    references: 'R17, R18',
    count: 2,
    part: '1.00 kΩ and 52.3 Ω, 0.1 %, 10 ppm/K',
    why: 'ohmmeter references',
  },
];

const driveLines: readonly PartLine[] = [
  {
    references: 'Q1–Q16, Q18, Q21, Q25',
    count: 19,
    part: 'n-channel transistor, 60 V, 0.3 A, fully on at 3.3 V',
    why: 'relay drivers and switches; 25 V at most on the drain',
  },
  {
    references: 'Q17, Q22, Q23, Q24',
    count: 4,
    part: 'p-channel transistor, 30 V, 1 A, fully on at 4.5 V; Q24 below 20 mΩ',
    why: 'coil rail switch sees 5 + 13 V; ohmmeter',
  },
  {
    references: 'Q20',
    count: 1,
    part: 'p-channel transistor, 100 V, 3 A, 20 V gate',
    why: 'reversed input; a negative pulse that D25 has cut to 53 V adds to the 18 V behind it',
  },
  {
    references: 'D2–D17',
    count: 16,
    part: 'fast switching diode, 75 V, 150 mA',
    why: 'one per coil to the clamp bus',
  },
  {
    references: 'D19',
    count: 1,
    part: 'one-way suppressor, 12 V stand-off, 600 W',
    why: 'clamp of all coils; see the coil energy below',
  },
  {
    references: 'D18',
    count: 1,
    part: 'two-way suppressor, 12 V stand-off, 600 W',
    why: 'clamp when the rail opens first',
  },
  {
    references: 'D24',
    count: 1,
    part: 'small Schottky diode, 30 V',
    why: 'keeps GP28 off the rail’s −13 V swing',
  },
  {
    references: 'U8',
    count: 1,
    part: 'retriggerable one-shot, 5 V, TTL-level inputs',
    why: 'dead-man; takes 3.3 V as high',
  },
  {
    references: 'R50, C50',
    count: 2,
    part: `${deadMan.timingKilohm} kΩ 1 %; ${deadMan.timingMicrofarad} µF 5 % film, not ceramic`,
    why: `${deadMan.nominalMs} ms; a ceramic part loses a third of its value with voltage`,
  },
  { references: 'R101–R116', count: 16, part: '100 Ω', why: 'gate resistors' },
  {
    references: 'R121–R136, R52, R97, R56',
    count: 19,
    part: '8.2 kΩ',
    why: 'gate and pulse pull-downs; not larger',
  },
];

const controlLines: readonly PartLine[] = [
  {
    references: 'U10',
    count: 1,
    part: 'controller module, RP2040 or RP2350, 40 pins',
    why: 'runs the firmware',
  },
  {
    references: 'U11',
    count: 1,
    part: 'two-channel digital isolator, 3.3 V, 3 kV, default high',
    why: 'ground loops; a dead PC side must read as an idle line',
  },
  { references: 'U12', count: 1, part: 'USB-to-serial bridge module, 3.3 V', why: 'the PC’s side' },
  {
    references: 'U15',
    count: 1,
    part: 'isolated converter, 9 to 36 V in, 5 V 1.2 A out, 1.5 kV',
    why: 'input and box common stay apart; rides through a 24 V jump start',
  },
  {
    references: 'F2',
    count: 1,
    part: '1 A slow fuse in an in-line holder, at the battery end of the supply lead',
    why: 'protects the lead; the box takes 0.4 A at most',
  },
  {
    references: 'D25, D31',
    count: 2,
    part: '33 V suppressors: two-way, 1500 W (D25); one-way, 600 W (D31)',
    why: 'input, in front of Q20 so that pulses of both signs meet it first; CAL + post',
  },
  {
    references: 'D27',
    count: 1,
    part: 'Schottky diode, 30 V, 1 A',
    why: '5 VL to VSYS: the module’s USB, while loading, does not feed the box',
  },
  { references: 'D26', count: 1, part: '12 V zener diode, 0.5 W', why: 'gate of Q20' },
  {
    references: 'D28–D30',
    count: 3,
    part: 'small Schottky diodes; D30 60 V 1 A',
    why: 'either current pin starts the source; blocks a battery on CAL +',
  },
  {
    references: 'F3',
    count: 1,
    part: '50 mA resettable fuse, 60 V',
    why: 'at the CAL + post, in front of D30 and D31',
  },
  {
    references: 'R90, R92–R96',
    count: 6,
    part: '10 kΩ, 100 kΩ, 100 kΩ, 10 kΩ 1 %, 90.9 kΩ 1 %, 100 kΩ',
    why: 'as drawn on the power sheet',
  },
  {
    references: 'R51, R53–R55, R41, R42',
    count: 6,
    part: '1 kΩ; 10 kΩ (5)',
    why: 'rail switch, rail sense, comparator pull-ups',
  },
  { references: 'R70–R72', count: 3, part: '4.7 kΩ', why: 'I²C and trip line pull-ups' },
  {
    references: 'R91, C90–C92',
    count: 4,
    part: '2.2 Ω; 470 µF 50 V; 100 µF + 1 µF; 470 µF 10 V',
    why: 'filters; 100 nF at every supply pin besides',
  },
];

const mechanicalLines: readonly PartLine[] = [
  {
    references: 'J1, J2',
    count: 2,
    part: 'two-wire lead, 1.5 m of 1.5 mm², crocodile clip with the sense wire soldered to its jaw; J1’s sense wire through 10 kΩ 0.5 W in the sleeve',
    why: 'Kelvin; 30 mΩ; F1 protects the force wire only, the 10 kΩ the other',
  },
  {
    references: 'J3, J4',
    count: 2,
    part: 'sense lead, 3 m of 0.5 mm², insulated clip, 10 kΩ 0.5 W in the clip’s sleeve',
    why: 'a chafed sense lead can then carry 2 mA at most',
  },
  {
    references: 'J5',
    count: 1,
    part: 'two-pole socket that cannot be reversed or mixed up with J1–J4',
    why: 'supply',
  },
  {
    references: 'J6',
    count: 1,
    part: 'USB socket of the bridge module, its shell kept off a metal case',
    why: 'the PC’s ground stays the PC’s',
  },
  {
    references: 'J7, J8',
    count: 2,
    part: 'insulated posts that take a clip, CAL + and CAL −',
    why: 'self-calibration',
  },
  {
    references: 'case',
    count: 1,
    part: 'die-cast or sheet aluminium, about 200 × 120 × 75 mm, with vents away from the leads',
    why: 'heat; see the heat budget',
  },
];

export const partGroups: readonly (readonly [title: string, lines: readonly PartLine[]])[] = [
  ['Ladder', elementLines],
  ['Path', pathLines],
  ['Meter and ohmmeter', meterLines],
  ['Relay drive and dead-man', driveLines],
  ['Controller, PC side, power', controlLines],
  ['Leads and case', mechanicalLines],
];

export const partRows = (lines: readonly PartLine[]): Row[] =>
  lines.map((line) => [line.references, line.count, line.part, line.why]);

/** Single references of a list such as 'R20, R22–R24'; names that are not a letter and a number stay out. */
export function expandReferences(references: string): string[] {
  return references.split(', ').flatMap((item) => {
    const match = /^([A-Z])(\d+)(?:–[A-Z](\d+))?$/.exec(item);
    if (match === null) return [];
    const [, letter = '', first = '0', last = first] = match;
    const count = Number(last) - Number(first) + 1;
    return Array.from({ length: count }, (_, index) => `${letter}${Number(first) + index}`);
  });
}
