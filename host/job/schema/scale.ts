import type { Mark } from './gauge';

/** Ends of the drawn scale, lowest first, and their difference in dial units. Kept apart from the schemas for the page. */
export const scaleOf = (marks: readonly Mark[]): { lowest: number; highest: number; span: number } => {
  const readings = marks.map((each) => each.reading);
  const lowest = Math.min(...readings);
  const highest = Math.max(...readings);
  return { lowest, highest, span: highest - lowest };
};
