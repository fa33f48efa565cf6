import { PITCH_MM, fixings, holeOf } from '../strip-board/board';

/**
 * Holes of the two cases, mm. Walls and lid are seen from outside, the floor from inside; x from their left edge, y from their
 * lower one. The floor has the front wall at its left: so the front wall's left is the floor's upper edge, the back wall's left
 * its lower one, and the side wall stands along its upper edge, the front wall at its right.
 */

export type WallName = 'front' | 'back' | 'side' | 'floor' | 'lid';

export type Hole = {
  readonly name: string;
  readonly wall: WallName;
  readonly x: number;
  readonly y: number;
  readonly diameter: number;
  readonly what: string;
};

export type Slot = {
  readonly wall: WallName;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
};

type Size = { readonly length: number; readonly width: number; readonly height: number };

export type CasePlan = {
  readonly size: Size;
  readonly holes: readonly Hole[];
  readonly slots: readonly Slot[];
};

/** Width and height of a wall. */
export const wallSize = ({
  length,
  width,
  height,
}: Size): Readonly<Record<WallName, readonly [number, number]>> => ({
  front: [width, height],
  back: [width, height],
  side: [length, height],
  floor: [length, width],
  lid: [length, width],
});

const hole = (
  [name, wall]: readonly [string, WallName],
  [x, y]: readonly [number, number],
  diameter: number,
  what: string,
): Hole => ({ name, wall, x, y, diameter, what });

type Place = readonly [x: number, y: number];

/** Sockets of the front wall, with the height of the upper and of the lower row. */
const front = ([left, ...more]: readonly number[], upper: number, lower: number): Hole[] => {
  const [second = 0, third = 0, fourth = 0] = more;
  return [
    hole(['J1', 'front'], [left ?? 0, upper], 16, 'SENDER socket, four poles'),
    hole(['J2', 'front'], [second, upper], 16, 'GROUND socket, four poles'),
    hole(['J3', 'front'], [third, upper], 12, 'FEED socket'),
    hole(['J4', 'front'], [fourth, upper], 12, 'BATTERY − socket'),
    hole(['J7', 'front'], [36, lower], 20, 'shroud of CAL +'),
    hole(['J8', 'front'], [68, lower], 20, 'shroud of CAL −'),
    hole(['D38', 'front'], [fourth, lower + 3], 5, 'lamp, output live'),
  ];
};

const pillars = ([left, lower]: Place, [right, upper]: Place, what: string): Hole[] =>
  (
    [
      ['M1', [left, lower]],
      ['M2', [right, lower]],
      ['M3', [left, upper]],
      ['M4', [right, upper]],
    ] as const
  ).map(([name, at]) => hole([name, 'floor'], at, 3.2, what));

const ventRow = (wall: WallName, count: number, [x, y]: Place): Slot[] =>
  Array.from({ length: count }, (_, index) => ({ wall, x: x + 12 * index, y, width: 4, height: 14 }));

/** The board's fixing holes lie 5 mm inside its corners, the board 5 mm inside the case. */
const CORNER_MM = 10;
const printedSize = { length: 200, width: 120, height: 75 } as const;

/** One printed board. Vents over and under the hot row (R4 to R9, R15), away from the leads. */
export const printedCase: CasePlan = {
  size: printedSize,
  holes: [
    ...front([22, 50, 76, 100], 58, 17),
    hole(['J6', 'back'], [90, 38], 20, 'plastic bushing with the USB socket'),
    hole(['J5', 'back'], [30, 38], 12, 'supply socket'),
    ...pillars(
      [CORNER_MM, CORNER_MM],
      [printedSize.length - CORNER_MM, printedSize.width - CORNER_MM],
      'pillar of the board, 10 mm, plastic',
    ),
  ],
  slots: [...ventRow('lid', 9, [40, 96]), ...ventRow('floor', 9, [40, 96])],
};

const stripSize = { length: 220, width: 130, height: 110 } as const;
/** The fixing holes of a strip board are at B2, B59, AI2 and AI59; B2 lies here on the floor plan, AI59 at the other end. */
const [[firstRow, firstColumn] = [0, 0], , , [lastRow, lastColumn] = [0, 0]] = fixings;
const rowsMm = (lastRow - firstRow) * PITCH_MM;
const columnsMm = (lastColumn - firstColumn) * PITCH_MM;
const FRONT_MM = 43;
const tenth = (mm: number): number => Math.round(mm * 10) / 10;
const lowerMm = (stripSize.width - rowsMm) / 2;

/** Where a hole of the strip boards lies on the floor plan. */
export const stripPlace = (name: string): Place => {
  const [row, column] = holeOf(name);
  return [FRONT_MM + (column - firstColumn) * PITCH_MM, lowerMm + rowsMm - (row - firstRow) * PITCH_MM];
};

/**
 * Three strip boards one above the other, row A along the side wall, column 60 at the back: each socket beside its own corner of
 * the supply board. Vents over the path board, which is the uppermost, and beside the lowest.
 */
export const stripCase: CasePlan = {
  size: stripSize,
  holes: [
    ...front([24, 54, 82, 108], 88, 30),
    hole(['J6', 'back'], [100, 38], 20, 'plastic bushing with the USB socket'),
    hole(['J5', 'side'], [145, 30], 12, 'supply socket'),
    ...pillars(
      [FRONT_MM, tenth(lowerMm)],
      [tenth(FRONT_MM + columnsMm), tenth(lowerMm + rowsMm)],
      'pillars of the boards: 10, 35 and 25 mm, plastic',
    ),
  ],
  slots: [...[95, 76, 57].flatMap((y) => ventRow('lid', 12, [52, y])), ...ventRow('floor', 9, [64, 58])],
};

export const casePlans = { printed: printedCase, strip: stripCase } as const;
