import { firstCircuit, firstOhm } from '../circuit/first-build';
import { fixed, table, type Row } from './format';

/**
 * Senders in circulation, from the end that drives the gauge least to the one that drives it most, ohm: common practice, no
 * source. Measure yours.
 */
const families: readonly (readonly [name: string, ohm: readonly [number, number]])[] = [
  ['fuel, 0 to 90', [0, 90]],
  ['fuel, 73 to 10', [73, 10]],
  ['fuel, 0 to 30', [0, 30]],
  ['fuel, 88 to 8', [88, 8]],
  ['fuel, 110 to 3', [110, 3]],
  ['fuel, 16 to 158', [16, 158]],
  ['fuel, 10 to 180', [10, 180]],
  ['fuel, 240 to 33', [240, 33]],
  ['pressure, 10 to 180', [10, 180]],
  ['coolant thermistor, 500 cold to 40 hot', [500, 40]],
  ['coolant thermistor, 2500 cold to 100 hot', [2500, 100]],
];

/** What the contacts make at least, and what eight elements of 1 % make for certain, ohm. */
const LEAST_OHM = 2;
const mostOhm = Math.floor(0.99 * firstOhm.elements);

function verdict([one, two]: readonly [number, number]): string {
  const [low, high] = [Math.min(one, two), Math.max(one, two)];
  const isLow = low < LEAST_OHM;
  if (high <= mostOhm) return isLow ? `yes, from ${LEAST_OHM} Ω` : 'yes';
  return low < mostOhm ? `only up to ${mostOhm} Ω` : 'no';
}

const counted = (pattern: RegExp): number =>
  firstCircuit.filter(({ reference }) => pattern.test(reference)).length;

function partRows(): Row[] {
  const kinds: readonly (readonly [string, RegExp])[] = [
    ['resistors', /^R\d/],
    ['capacitors', /^C\d/],
    ['diodes, suppressors, lamp', /^D\d/],
    ['transistors', /^Q\d/],
    ['chips and modules', /^U\d/],
    ['relays', /^K\d/],
    ['fuses', /^F\d/],
    ['sockets and posts', /^J\d/],
  ];
  const rows = kinds.map(([name, pattern]): Row => [name, counted(pattern)]);
  return [...rows, ['all', rows.reduce((sum, [, count]) => sum + Number(count), 0)]];
}

/** Tables of the first build. */
export const firstBuildTables = (): readonly (readonly [string, string])[] => [
  ['first-parts', table(['kind', 'number'], partRows())],
  [
    'first-families',
    table(
      ['sender', 'the first build'],
      families.map(([name, ohm]): Row => [name, verdict(ohm)]),
    ),
  ],
  [
    'first-figures',
    table(
      ['figure', 'value'],
      [
        ['settings', `${LEAST_OHM} to ${mostOhm} Ω`],
        ['largest step between settings', 'about 1 Ω'],
        [
          'path with every relay dead, behind an open K16',
          `${fixed(firstOhm.elements + firstOhm.limiter, 0)} Ω`,
        ],
        [
          'current through a welded K16, 16 V on the clips',
          `${fixed((1000 * 16) / (firstOhm.elements + firstOhm.limiter), 0)} mA`,
        ],
      ],
    ),
  ],
];
