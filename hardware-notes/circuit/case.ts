/** Holes of the case, mm. Walls and lid are seen from outside, the floor from inside; x from their left edge, y from their lower one. */

export type WallName = 'front' | 'back' | 'floor' | 'lid';

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

export const caseMm = { length: 200, width: 120, height: 75 } as const;

export const wallMm: Readonly<Record<WallName, readonly [width: number, height: number]>> = {
  front: [caseMm.width, caseMm.height],
  back: [caseMm.width, caseMm.height],
  floor: [caseMm.length, caseMm.width],
  lid: [caseMm.length, caseMm.width],
};

const hole = (
  [name, wall]: readonly [string, WallName],
  [x, y]: readonly [number, number],
  diameter: number,
  what: string,
): Hole => ({ name, wall, x, y, diameter, what });

/** The board's fixing holes lie 5 mm inside its corners, the board 5 mm inside the case. */
const CORNER_MM = 10;

export const holes: readonly Hole[] = [
  hole(['J1', 'front'], [22, 58], 16, 'SENDER socket, four poles'),
  hole(['J2', 'front'], [50, 58], 16, 'GROUND socket, four poles'),
  hole(['J3', 'front'], [76, 58], 12, 'FEED socket'),
  hole(['J4', 'front'], [100, 58], 12, 'BATTERY − socket'),
  hole(['J7', 'front'], [36, 17], 20, 'shroud of CAL +'),
  hole(['J8', 'front'], [68, 17], 20, 'shroud of CAL −'),
  hole(['D38', 'front'], [100, 20], 5, 'lamp, output live'),
  hole(['J6', 'back'], [30, 38], 20, 'plastic bushing with the USB socket'),
  hole(['J5', 'back'], [90, 38], 12, 'supply socket'),
  hole(['M1', 'floor'], [CORNER_MM, CORNER_MM], 3.2, 'pillar of the board, 10 mm, plastic'),
  hole(['M2', 'floor'], [caseMm.length - CORNER_MM, CORNER_MM], 3.2, 'pillar of the board, 10 mm, plastic'),
  hole(['M3', 'floor'], [CORNER_MM, caseMm.width - CORNER_MM], 3.2, 'pillar of the board, 10 mm, plastic'),
  hole(
    ['M4', 'floor'],
    [caseMm.length - CORNER_MM, caseMm.width - CORNER_MM],
    3.2,
    'pillar of the board, 10 mm, plastic',
  ),
];

/** Vents over and under the hot row (R4 to R9, R15), away from the leads. */
const ventRow = (wall: WallName): Slot[] =>
  Array.from({ length: 9 }, (_, index) => ({ wall, x: 40 + 12 * index, y: 96, width: 4, height: 14 }));

export const slots: readonly Slot[] = [...ventRow('lid'), ...ventRow('floor')];
