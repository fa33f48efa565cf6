import { CONTINUED, NO_CERTIFICATE, SIMULATED_RECORD } from '../../words/record';
import { INK, boxPath, line, PX_PER_MM, rule, textAt, type Drawing, type Item } from '../paper/items';
import type { Letters } from '../paper/letters';

/** As large as fits A4 and Letter alike with a margin that every printer leaves. */
const WIDTH = 190 * PX_PER_MM;
const HEIGHT = 257 * PX_PER_MM;
const ZONE = 4.3 * PX_PER_MM;
/** Where a sheet's own matter lies. */
export const SHEET = {
  width: WIDTH,
  height: HEIGHT,
  left: 9 * PX_PER_MM,
  right: 181 * PX_PER_MM,
  top: 9 * PX_PER_MM,
  bottom: 243 * PX_PER_MM,
} as const;

const ACROSS = 6;
const DOWN = ['A', 'B', 'C', 'D', 'E', 'F', 'G', 'H'] as const;
const ZONE_SIZE = 8;
const FOOT_SIZE = 9.5;
/** A job takes so many; where there are more, each says that it goes on. */
const USUAL_SHEETS = 2;

/** The frame with its zones, so that a letter or a call can say "B 4". Source: ISO 5457, its way of naming zones. */
function frameItems(): Item[] {
  const [stepX, stepY] = [(WIDTH - ZONE) / ACROSS, (HEIGHT - ZONE) / DOWN.length];
  return [
    {
      kind: 'path',
      d: boxPath({ x: 0.5, y: 0.5, width: WIDTH - 1, height: HEIGHT - 1 }),
      stroke: INK.soft,
      width: 0.7,
    },
    {
      kind: 'path',
      d: boxPath({ x: ZONE, y: ZONE, width: WIDTH - 2 * ZONE, height: HEIGHT - 2 * ZONE }),
      stroke: INK.ink,
      width: 1.2,
    },
    ...Array.from({ length: ACROSS }, (_, index) => index).flatMap((index): Item[] => [
      textAt(ZONE / 2 + (index + 0.5) * stepX, ZONE / 2 + ZONE_SIZE * 0.36, String(index + 1), {
        size: ZONE_SIZE,
        colour: INK.soft,
        anchor: 'middle',
      }),
      ...(index === 0
        ? []
        : [line([ZONE / 2 + index * stepX, 0.5], [ZONE / 2 + index * stepX, ZONE], 0.7, INK.soft)]),
    ]),
    ...DOWN.flatMap((letter, index): Item[] => [
      textAt(ZONE / 2, ZONE / 2 + (index + 0.5) * stepY + ZONE_SIZE * 0.36, letter, {
        size: ZONE_SIZE,
        colour: INK.soft,
        anchor: 'middle',
      }),
      ...(index === 0
        ? []
        : [line([0.5, ZONE / 2 + index * stepY], [ZONE, ZONE / 2 + index * stepY], 0.7, INK.soft)]),
    ]),
  ];
}

export type SheetFacts = {
  readonly jobId: string;
  readonly simulated: boolean;
  readonly number: number;
  readonly count: number;
};

/** A name too long for its place keeps its beginning; it stands whole elsewhere on the sheet. */
function shortened(letters: Letters, text: string, size: number, width: number): string {
  if (letters.widthOf(text, 'text', size) <= width) return text;
  let kept = text;
  while (kept !== '' && letters.widthOf(`${kept}\u2026`, 'text', size) > width)
    kept = [...kept].slice(0, -1).join('');
  return `${kept}\u2026`;
}

/** One sheet: frame, foot, and where no vehicle was measured the word across it. */
export function sheetOf(letters: Letters, facts: SheetFacts, items: readonly Item[]): Drawing {
  const { jobId, number, count } = facts;
  const foot = SHEET.height - ZONE - 10;
  const place = `sheet ${number} of ${count}${count > USUAL_SHEETS && number < count ? CONTINUED : ''}`;
  const room = SHEET.right - SHEET.left - letters.widthOf(NO_CERTIFICATE, 'text', FOOT_SIZE) - 16;
  const name = shortened(
    letters,
    `Record ${jobId}`,
    FOOT_SIZE,
    room - letters.widthOf(` , ${place}`, 'text', FOOT_SIZE),
  );
  return {
    title: `Record ${jobId}, ${place}`,
    width: WIDTH,
    height: HEIGHT,
    items: [
      ...(facts.simulated ? simulatedItems(letters) : []),
      ...frameItems(),
      ...items,
      rule([SHEET.left, foot - 15], SHEET.right - SHEET.left, 0.7, INK.rule),
      textAt(SHEET.left, foot, NO_CERTIFICATE, { size: FOOT_SIZE, colour: INK.soft }),
      textAt(SHEET.right, foot, `${name}, ${place}`, { size: FOOT_SIZE, colour: INK.soft, anchor: 'end' }),
    ],
  };
}

const BAND_SIZE = 15;
export const BAND_HEIGHT = 24;

/** Above everything else, across the whole sheet. */
export const simulatedBand = (y: number): Item[] => [
  {
    kind: 'path',
    d: boxPath({ x: SHEET.left, y, width: SHEET.right - SHEET.left, height: BAND_HEIGHT }),
    fill: '#fdf3dc',
    stroke: INK.doubt,
    width: 1.5,
  },
  textAt((SHEET.left + SHEET.right) / 2, y + BAND_HEIGHT / 2 + BAND_SIZE * 0.36, SIMULATED_RECORD, {
    size: BAND_SIZE,
    font: 'strong',
    colour: INK.doubt,
    anchor: 'middle',
  }),
];

const ACROSS_SIZE = 118;

/** The word as outlines behind everything, so that no part of the sheet can be cut out without it. */
function simulatedItems(letters: Letters): Item[] {
  return [
    {
      kind: 'path',
      d: letters.outlineOf('SIMULATED', { x: WIDTH / 2, y: HEIGHT / 2, size: ACROSS_SIZE, degrees: -52 }),
      fill: '#f6ecd6',
    },
  ];
}
