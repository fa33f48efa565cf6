import { INK, rule, textAt, type Anchor, type Font, type Item } from './items';
import { wrapped, type Letters } from './letters';

/** A piece of a sheet that is never torn: its height, and what is drawn from its upper left corner. */
export type Block = { readonly height: number; readonly items: readonly Item[] };

/** Pieces under one heading. Where they go on in the next column the heading is said again. */
export type Section = {
  readonly head: Block;
  readonly again: Block;
  readonly rows: readonly Block[];
  /** Never torn, unless it is taller than a sheet. */
  readonly isWhole?: true;
};

const LINE_FACTOR = 1.28;

type Paragraph = {
  readonly text: string;
  readonly width: number;
  readonly size: number;
  readonly font?: Font;
  readonly colour?: string;
  readonly anchor?: Anchor;
};

/** A name that heads a sheet: large, and smaller where it is long. */
export function nameBlock(letters: Letters, text: string, width: number, size: number): Block {
  const large = paragraph(letters, { text, width, size, font: 'engraved' });
  return large.items.length <= MOST_LARGE_LINES
    ? large
    : paragraph(letters, { text, width, size: SMALLER, font: 'engraved' });
}

const MOST_LARGE_LINES = 2;
const SMALLER = 11.5;

/** Lines of a text from the upper left corner of its block. */
export function paragraph(
  letters: Letters,
  { text, width, size, font = 'text', colour, anchor = 'start' }: Paragraph,
): Block {
  const lines = wrapped(text, { letters, font, size, width });
  const step = size * LINE_FACTOR;
  const x = anchor === 'start' ? 0 : anchor === 'end' ? width : width / 2;
  return {
    height: lines.length * step,
    items: lines.map((each, index) =>
      textAt(x, size + index * step, each, {
        font,
        size,
        anchor,
        ...(colour === undefined ? {} : { colour }),
      }),
    ),
  };
}

/** One below the other. */
export function stacked(blocks: readonly Block[], gap = 0): Block {
  const items: Item[] = [];
  let y = 0;
  for (const [index, block] of blocks.entries()) {
    if (index > 0) y += gap;
    items.push({ kind: 'group', x: 0, y, items: block.items });
    y += block.height;
  }
  return { height: y, items };
}

export const space = (height: number): Block => ({ height, items: [] });

const HEADING_SIZE = 14;
const HEADING_GAP = 6;

/** A heading over its rule. */
export function heading(letters: Letters, text: string, width: number): Block {
  const words = paragraph(letters, { text, width, size: HEADING_SIZE, font: 'engraved' });
  const height = words.height + HEADING_GAP;
  return { height: height + 3, items: [...words.items, rule([0, height], width, 1.2, INK.ink)] };
}
