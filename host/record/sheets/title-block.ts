import { paragraph, type Block } from '../paper/block';
import { boxPath, INK, moved, textAt, type Item } from '../paper/items';
import type { Letters } from '../paper/letters';

export type Cell = { readonly name: string; readonly value: string; readonly parts: number };

const NAME_SIZE = 9.5;
const VALUE_SIZE = 13;
/** A long name is written smaller before it takes many lines. */
const SMALL_SIZE = 10.5;
const PAD = 7;
const VALUE_TOP = 17;
const MOST_BIG_LINES = 1;

function cellText(letters: Letters, value: string, width: number): Block {
  const big = paragraph(letters, { text: value, width, size: VALUE_SIZE });
  return big.items.length <= MOST_BIG_LINES
    ? big
    : paragraph(letters, { text: value, width, size: SMALL_SIZE });
}

/** Rows of boxes, each as high as its longest text: nothing is cut off. */
export function titleBlock(letters: Letters, rows: readonly (readonly Cell[])[], width: number): Block {
  const items: Item[] = [];
  let y = 0;
  for (const cells of rows) {
    const parts = cells.reduce((sum, cell) => sum + cell.parts, 0);
    const widths = cells.map((cell) => (cell.parts / parts) * width);
    const texts = cells.map((cell, index) => cellText(letters, cell.value, (widths[index] ?? 0) - 2 * PAD));
    const height = Math.max(38, ...texts.map((text) => VALUE_TOP + text.height + PAD - 2));
    let x = 0;
    for (const [index, cell] of cells.entries()) {
      const own = widths[index] ?? 0;
      items.push(
        { kind: 'path', d: boxPath({ x, y, width: own, height }), stroke: INK.ink, width: 0.9 },
        textAt(x + PAD, y + 12.5, cell.name, { size: NAME_SIZE, colour: INK.soft }),
        moved(x + PAD, y + VALUE_TOP, texts[index]?.items ?? []),
      );
      x += own;
    }
    y += height;
  }
  items.push({ kind: 'path', d: boxPath({ x: 0, y: 0, width, height: y }), stroke: INK.ink, width: 1.8 });
  return { height: y, items };
}
