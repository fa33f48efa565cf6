import {
  chainHold,
  converter,
  deadMan,
  elements,
  outputRelay,
  path,
  relay,
} from '../../firmware-ts/board/reference-design';
import { ohmText, wattText } from './format';
import { mechanicalLines } from './part-leads';
import type { PartLine } from './part-line';

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
    why: 'above 300 mA root mean square and the pulses of a thermal gauge; computed in calculations.md',
  },
  {
    references: path.groundFuse.name,
    count: 1,
    part: `${path.groundFuse.ratedMilliamp / 1000} A fast ceramic fuse, breaking capacity ${path.groundFuse.breakingAmp} A, in an in-line holder, GROUND lead`,
    why: 'what a feed on box common meets: swapped clips, CAL − on the chassis. A battery drives more than a glass fuse breaks',
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
    why: 'must open 6 A once if a gauge shorts; its supply ends first; gold so that 5 mA still wets it',
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
    part: 'dual amplifier of the same kind',
    why: 'followers at both ends of the ohmmeter reference: nothing may enter or leave there',
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
    part: '10 kΩ (2) and 40.2 kΩ (2), 0.1 %, one network or one batch',
    why: 'gain 4.02 on the shunt; the self-calibration takes off the zero their mismatch leaves, up to 4 mA',
  },
  {
    references: 'R34–R37',
    count: 4,
    part: '100 kΩ, one network, every ratio within 0.01 %',
    why: 'gain 1 on the ohmmeter reference: nothing corrects this ratio, and it sees 2 V in common; every resistance hangs on it',
  },
  {
    references: 'R38–R40, R43–R45',
    count: 6,
    part: '1 kΩ, 2.67 kΩ, 1.1 kΩ, 1.78 kΩ, 1.78 kΩ, 2.67 kΩ, 1 %',
    why: 'trip thresholds 4.51, 3.30, 1.70 and 0.50 V; BIAS holds the middle',
  },
  {
    references: 'R46, C24',
    count: 2,
    part: `820 kΩ 1 %; 1 µF 10 % film, not ceramic, not electrolytic`,
    why: 'low-pass of the slow comparators: lets a stabiliser’s pulses pass',
  },
  {
    references: 'U3',
    count: 1,
    part: 'quad open-drain comparator, rail-to-rail input, input current below 1 nA',
    why: 'hardware trip, at once and slow, both signs',
  },
  {
    references: 'U7, U9',
    count: 2,
    part: 'triple three-input NOR gate (U7), dual four-input NOR gate (U9), CMOS, on 3V3',
    why: 'latch and inverters; a lost comparator reads as a trip',
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
    references: 'Q1–Q16, Q18, Q21, Q25, Q27',
    count: 20,
    part: 'n-channel transistor, 60 V, 0.3 A, fully on at 3.3 V',
    why: 'relay drivers and switches; 25 V at most on the drain',
  },
  {
    references: 'Q17, Q22–Q24, Q26',
    count: 5,
    part: 'p-channel transistor, 30 V, 1 A, fully on at 4 V; Q24 below 20 mΩ, Q26 below 100 mΩ',
    why: 'coil supply switches see 5 + 13 V; ohmmeter',
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
    references: 'D18, D37',
    count: 2,
    part: 'two-way suppressor, 12 V stand-off, 600 W',
    why: 'clamp when a supply opens first',
  },
  {
    references: 'D24, D32, D33',
    count: 3,
    part: 'small Schottky diode, 30 V',
    why: 'D24 keeps GP28 off the supplies’ −13 V swing; D32, D33: ALIVE or HOLD feeds the chain',
  },
  {
    references: 'U8',
    count: 1,
    part: 'dual retriggerable one-shot, CMOS, on 3V3, edge fired',
    why: 'dead-man, and what holds the chain until K16 is open',
  },
  {
    references: 'R50, C50',
    count: 2,
    part: `${deadMan.timingKilohm} kΩ 1 %; ${deadMan.timingMicrofarad} µF 5 % film, not ceramic`,
    why: `${deadMan.nominalMs} ms; a ceramic part loses a third of its value with voltage`,
  },
  {
    references: 'R57, C51',
    count: 2,
    part: `${chainHold.timingKilohm} kΩ 1 %; ${chainHold.timingMicrofarad} µF 5 % film, not ceramic`,
    why: `${chainHold.nominalMs} ms: the chain’s supply outlives K16’s`,
  },
  {
    references: 'C52',
    count: 1,
    part: `${chainHold.reservoirMicrofarad} µF ±${chainHold.reservoirTolerancePercent} % 10 V electrolytic, 105 °C`,
    why: 'feeds the chain’s coils while the box’s supply is gone',
  },
  {
    references: 'D34–D36',
    count: 3,
    part: 'Schottky diode, 20 V 3 A (D34, D35); 30 V 1 A (D36)',
    why: 'the reservoir feeds the chain and nothing else; charged through R59, so U15 starts easily',
  },
  { references: 'R59', count: 1, part: '22 Ω 5 % 1 W', why: 'charging current of C52, 0.23 A at first' },
  {
    references: 'U14',
    count: 1,
    part: `supply supervisor, ${chainHold.undervoltMillivolt / 1000} V ± ${chainHold.undervoltTolerancePercent} %, open drain, low below it, works down to 1 V`,
    why: 'a failing supply opens K16 at once',
  },
  {
    references: 'D38, D39, R64',
    count: 3,
    part: 'red light-emitting diode for the front; fast switching diode, 75 V; 470 Ω',
    why: '“output live”: lit by the coil itself, not by firmware',
  },
  { references: 'R101–R116', count: 16, part: '100 Ω', why: 'gate resistors' },
  {
    references: 'R121–R136, R52, R97, R56, R60, R49',
    count: 21,
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
    why: 'input and box common stay apart; rides through a 24 V jump start; takes 500 µF at its output when it starts',
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
    why: '5 VH to VSYS: the module’s USB, while loading, does not feed the box',
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
    references: 'R51, R58, R53, R55, R61, R41, R42, R47, R48, R54, R63',
    count: 11,
    part: '1 kΩ (R51, R58); 10 kΩ (R53, R55, R61, R41, R42, R47, R48); 20 kΩ 1 % (R54, R63)',
    why: 'supply switches, supply sense, comparator pull-ups',
  },
  {
    references: 'R70–R72',
    count: 3,
    part: '4.7 kΩ',
    why: 'R70, R71 pull the I²C lines up; R72 pulls the trip line down, so that a missing latch reads as a trip',
  },
  {
    references: 'R91, C90–C92',
    count: 4,
    part: '2.2 Ω; 470 µF 50 V (C90); 100 µF 10 V (C91); 470 µF 10 V (C92), electrolytic, 105 °C',
    why: 'filters',
  },
  {
    references: 'C93, C94',
    count: 2,
    part: '10 µF and 1 µF ceramic',
    why: 'output of the reference, which wants one; beside C91',
  },
  {
    references: 'C101–C115',
    count: 15,
    part: '100 nF ceramic',
    why: 'one at each supply pin, within 5 mm: the list stands in connections.md',
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
