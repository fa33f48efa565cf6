import type { Block, Section } from './block';
import type { Item } from './items';

/** Between two sections of a column. */
const SECTION_GAP = 16;

type Piece = Block & { readonly y: number };
type Filled = { readonly pieces: readonly Piece[]; readonly height: number };

/** What is left of the sections: the first one may be begun. */
type Left = { readonly sections: readonly Section[]; readonly isBegun: boolean };

/** At the foot of a column never a heading alone, nor with one row of several. */
const FEWEST_ROWS = 2;
/** A short table is not torn. */
const SHORT_ROWS = 5;
const leastRows = ({ rows, isWhole }: Section): readonly Block[] =>
  isWhole === true || rows.length <= SHORT_ROWS ? rows : rows.slice(0, FEWEST_ROWS);

/** Fills one column of a height; what does not fit is left. A piece that is taller than any column stands all the same. */
function fillColumn(
  { sections, isBegun }: Left,
  height: number,
): { readonly filled: Filled; readonly left: Left } {
  const pieces: Piece[] = [];
  let y = 0;
  const put = (block: Block): void => {
    pieces.push({ ...block, y });
    y += block.height;
  };
  for (const [index, section] of sections.entries()) {
    const isFirst = index === 0 && isBegun;
    const gap = pieces.length === 0 ? 0 : SECTION_GAP;
    const head = isFirst ? section.again : section.head;
    const least = head.height + heightOf(leastRows(section));
    const isEmpty = pieces.length === 0;
    if (!isEmpty && y + gap + least > height)
      return { filled: { pieces, height: y }, left: { sections: sections.slice(index), isBegun: false } };
    y += gap;
    put(head);
    const taken = rowsFitting(section.rows, height - y);
    for (const row of section.rows.slice(0, taken)) put(row);
    if (taken < section.rows.length) {
      const rest: Section = { ...section, rows: section.rows.slice(taken) };
      return {
        filled: { pieces, height: y },
        left: { sections: [rest, ...sections.slice(index + 1)], isBegun: true },
      };
    }
  }
  return { filled: { pieces, height: y }, left: { sections: [], isBegun: false } };
}

export const heightOf = (blocks: readonly Block[]): number =>
  blocks.reduce((total, { height }) => total + height, 0);

/** How many rows fit; at least one, and never all but one. */
function rowsFitting(rows: readonly Block[], room: number): number {
  let y = 0;
  const count = rows.findIndex(({ height }) => (y += height) > room);
  if (count < 0) return rows.length;
  const kept = rows.length - count === 1 && count > FEWEST_ROWS ? count - 1 : count;
  return Math.max(1, kept);
}

export type Page = { readonly items: readonly Item[]; readonly height: number };

type Space = { readonly columnWidth: number; readonly gap: number; readonly height: number };

const drawn = ({ pieces }: Filled, x: number): Item[] =>
  pieces.map(({ y, items }) => ({ kind: 'group', x, y, items }));

/** Two columns a page, one after the other; on the last page both as low as need be. */
export function twoColumns(
  sections: readonly Section[],
  firstHeight: number,
  { columnWidth, gap, height }: Space,
): Page[] {
  const pages: Page[] = [];
  let left: Left = { sections: sections.filter(({ rows }) => rows.length > 0), isBegun: false };
  while (left.sections.length > 0) {
    const room = pages.length === 0 ? firstHeight : height;
    const whole = pair(left, room);
    const at = whole.left.sections.length > 0 ? room : lowest(left, room);
    const { first, second, left: after } = pair(left, at);
    pages.push({
      items: [...drawn(first, 0), ...drawn(second, columnWidth + gap)],
      height: Math.max(first.height, second.height),
    });
    left = after;
  }
  return pages;
}

function pair(
  left: Left,
  height: number,
): { readonly first: Filled; readonly second: Filled; readonly left: Left } {
  const one = fillColumn(left, height);
  const other = fillColumn(one.left, height);
  return { first: one.filled, second: other.filled, left: other.left };
}

/** The least height in which everything that is left stands in two columns. */
function lowest(left: Left, room: number): number {
  let [low, high] = [0, room];
  for (let turn = 0; turn < 24; turn += 1) {
    const at = (low + high) / 2;
    const { first, second, left: after } = pair(left, at);
    const isIn = after.sections.length === 0 && Math.max(first.height, second.height) <= room;
    if (isIn) high = at;
    else low = at;
  }
  return high;
}
