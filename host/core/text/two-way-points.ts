import type { Table } from './table';

const BARE = /^[-+\u2212]?[\d.,]+$/;
const GROUPED = /^[-+\u2212]?[1-9]\d{0,2}\.\d{3}$/;
/** One figure of this form is a coincidence. */
const LEAST_CELLS = 2;

/**
 * Columns in which every figure is written `9.397`: in a table parted by semicolons, which is how spreadsheets write
 * where the comma is the decimal mark, that point may part thousands. A figure with another point settles it.
 */
export function twoWayPointColumns({ rows, separator, comma }: Table): ReadonlySet<number> {
  if (separator !== ';' || comma === 'thousands') return new Set();
  const figures = rows.flatMap(({ cells }) =>
    cells.flatMap(({ text }, index) => (BARE.test(text) ? [{ text, index }] : [])),
  );
  const isSettled = figures.some(
    ({ text }) => text.includes('.') && !GROUPED.test(text) && !text.includes(','),
  );
  if (isSettled) return new Set();
  const columns = new Set(figures.map(({ index }) => index));
  return new Set(
    [...columns].filter((column) => {
      const own = figures.filter(({ index }) => index === column);
      return own.length >= LEAST_CELLS && own.every(({ text }) => GROUPED.test(text));
    }),
  );
}

/** What a person is asked about such a figure. */
export const twoWayPoint = (text: string): string =>
  `"${text}" can mean ${text.replace('.', '')} or ${text}; write the one you mean: without the point, or with a nought behind it (${text}0)`;
