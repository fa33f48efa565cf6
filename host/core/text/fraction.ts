import type { Unit } from '../units';

const FRACTION = /^(\d{1,2})\s*[/\u2044]\s*(\d{1,2})$/;

/** What matters here of a column: what it is about, and its unit. */
type DialColumn = { readonly stem: string; readonly unit: Unit | undefined };

/** Readings of a fuel dial: parts of the whole, or in the dial's own unit where nothing says which. */
const isPartOfWhole = ({ stem, unit }: DialColumn): boolean =>
  (stem === 'reading' && unit === undefined) || unit?.name === 'fraction';

/** As the ends of a fuel dial are printed, where a column is known to hold parts of the whole. */
const ENDS: Readonly<Partial<Record<string, number>>> = { E: 0, EMPTY: 0, F: 1, FULL: 1 };

/** Whether a cell is written as a part of the whole, which says what the other cells of its column are. */
export const isFraction = (text: string): boolean => FRACTION.test(text);

/** `1/4` as fuel dials are marked, where the column holds parts of the whole; undefined for everything else. */
export function fractionIn(text: string, column: DialColumn): number | undefined {
  const end = column.unit?.name === 'fraction' ? ENDS[text.toUpperCase()] : undefined;
  if (end !== undefined) return end;
  const [, part, whole] = FRACTION.exec(text) ?? [];
  if (part === undefined || whole === undefined || !isPartOfWhole(column)) return undefined;
  return Number(part) <= Number(whole) && Number(whole) > 0 ? Number(part) / Number(whole) : undefined;
}

const EXAMPLES: Readonly<Partial<Record<Unit['family'], string>>> = {
  temperature: '85 or 92.5',
  pressure: '4 or 2.5',
  volume: '20 or 12.5',
};

/** How the readings of a dial are typed: what stands in the cell is no number. */
export function dialHint(text: string, column: DialColumn): string | undefined {
  const family = column.unit?.family;
  if (column.stem !== 'reading' || family === 'resistance') return undefined;
  if (column.unit?.name === '%')
    return `"${text}" is not a number; type it like 25 or 62.5, in percent of full`;
  if (family === undefined || family === 'part')
    return `"${text}" is not a number; type it like 1/4 or 0.25; E and F are the ends, 0 and 1`;
  return `"${text}" is not a number; type it like ${EXAMPLES[family] ?? '85 or 92.5'}`;
}
