import type { PartLine } from './part-line';

/** Leads, posts, sockets and case. */
export const mechanicalLines: readonly PartLine[] = [
  {
    references: 'J1, J2',
    count: 2,
    part: 'two-wire lead, 1.5 m of 1.5 mm², crocodile clip with the sense wire soldered to its jaw through R65, R67 in the sleeve',
    why: 'Kelvin; 30 mΩ; F1 and F4 protect the force wires only, the 10 kΩ the others',
  },
  {
    references: 'R65–R68',
    count: 4,
    part: '10 kΩ 1 % 0.5 W, in the sleeves of the clips of J1 to J4',
    why: 'no fault makes a thin sense wire dangerous',
  },
  {
    references: 'J3, J4',
    count: 2,
    part: 'sense lead, 3 m of 0.5 mm², insulated clip, R66, R68 in the clip’s sleeve',
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
    part: 'posts that take a clip, CAL + and CAL −, sunk in an insulating shroud with a lid',
    why: 'self-calibration; a shrouded post cannot touch a chassis or a live terminal',
  },
  {
    references: 'case',
    count: 1,
    part: 'die-cast or sheet aluminium, about 200 × 120 × 75 mm (for the strip boards about 220 × 130 × 110 mm), with vents away from the leads',
    why: 'heat; see the heat budget',
  },
];
