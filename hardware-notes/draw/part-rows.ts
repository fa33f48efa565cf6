import type { Row } from './format';
import type { PartLine } from './part-line';
import { partTypes } from './part-types';
import { partGroups } from './parts';

/** What is known of a type: read in its data sheet, or to be compared. */
function typeOf(references: string): readonly [type: string, sheet: string] {
  const found = partTypes[references];
  if (found === undefined) throw new Error(`the parts list names no type for ${references}`);
  return [
    found.type,
    found.read === undefined ? 'from memory, compare with the table' : `data sheet read: ${found.read}`,
  ];
}

export const partRows = (lines: readonly PartLine[]): Row[] =>
  lines.map((line) => [line.references, line.count, line.part, ...typeOf(line.references), line.why]);

/** How many parts each group has, and all together. */
export function partCountRows(): Row[] {
  const counts = partGroups.map(([title, lines]): Row => [
    title,
    lines.reduce((sum, { count }) => sum + count, 0),
  ]);
  const all = counts.reduce((sum, [, count]) => sum + Number(count), 0);
  return [...counts, ['all', all]];
}

/** Single references of a list such as 'R20, R22–R24'; names that are not a letter and a number stay out. */
export function expandReferences(references: string): string[] {
  return references.split(', ').flatMap((item) => {
    const match = /^([A-Z])(\d+)(?:–[A-Z](\d+))?$/.exec(item);
    if (match === null) return [];
    const [, letter = '', first = '0', last = first] = match;
    const count = Number(last) - Number(first) + 1;
    return Array.from({ length: count }, (_, index) => `${letter}${Number(first) + index}`);
  });
}
