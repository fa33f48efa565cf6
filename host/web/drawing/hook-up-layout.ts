import type { HookUp, Join } from '../../job/hook-up';
import { wordsWidth } from '../../scene/text-width';

/** One lead of the picture: its row, its socket and the lines of text at its far end. Pixels. */
export type HookUpRow = {
  readonly join: Join;
  readonly y: number;
  readonly lines: readonly string[];
};

export type HookUpLayout = {
  readonly width: number;
  readonly height: number;
  readonly box: { readonly x: number; readonly y: number; readonly width: number; readonly height: number };
  /** Where the sign of the far end is drawn, and where its words begin. */
  readonly endX: number;
  readonly textX: number;
  readonly rows: readonly HookUpRow[];
  readonly textPixel: number;
};

const NARROW_PIXEL = 520;
const WIDEST_PIXEL = 640;
const LINE_FACTOR = 1.3;
const ROW_PIXEL = 44;
const SIGN_PIXEL = 34;
const HEAD_PIXEL = 30;

/** Words in lines no longer than a width; a word longer than that stands alone. */
function wrapped(text: string, width: number, pixel: number): string[] {
  const lines: string[] = [];
  for (const word of text.split(' ')) {
    const last = lines.at(-1);
    const longer = last === undefined ? word : `${last} ${word}`;
    if (last !== undefined && wordsWidth(longer, pixel) <= width) lines[lines.length - 1] = longer;
    else lines.push(word);
  }
  return lines;
}

/** Leads one below the other, each straight from its socket to where it goes. Source: geometry alone. */
export function hookUpLayout(
  { of, joins }: Pick<HookUp, 'of' | 'joins'>,
  frameWidth: number,
  typeFactor = 1,
): HookUpLayout {
  const width = Math.min(WIDEST_PIXEL * typeFactor, frameWidth);
  const textPixel = (width < NARROW_PIXEL * typeFactor ? 14 : 16) * typeFactor;
  const names = [of, ...joins.map(({ from }) => from)].map((name) => wordsWidth(name, textPixel));
  const boxWidth = Math.max(...names) + 2 * textPixel;
  const endX = Math.round(boxWidth + (width - boxWidth) * 0.34);
  const textX = endX + SIGN_PIXEL;
  let y = HEAD_PIXEL * typeFactor;
  const rows = joins.map((join): HookUpRow => {
    const lines = wrapped(join.to, width - textX - 2, textPixel);
    const tall = Math.max(ROW_PIXEL, lines.length * textPixel * LINE_FACTOR + 12);
    y += tall;
    return { join, y: y - tall / 2, lines };
  });
  return {
    width,
    height: Math.ceil(y + 8),
    box: { x: 2, y: 2, width: boxWidth, height: y + 4 },
    endX,
    textX,
    rows,
    textPixel,
  };
}
