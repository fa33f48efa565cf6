import type { z } from 'zod';
import { plainIssue } from './plain-issue';

/** Writes the path of a field as a person would look it up: `gauge.marks[2].reading`. */
const placeOf = (path: readonly PropertyKey[]): string =>
  path.reduce<string>((place, part) => {
    if (typeof part === 'number') return `${place}[${part}]`;
    return place === '' ? String(part) : `${place}.${String(part)}`;
  }, '');

/**
 * One sentence for what a schema refused: the place, what is wrong there, unknown keys by name.
 * Only the first few problems are told; the rest are counted.
 */
export const explain = (error: z.ZodError): string => {
  const SHOWN = 3;
  const told = error.issues.slice(0, SHOWN).map((issue) => {
    const place = placeOf(issue.path);
    const what = plainIssue(issue);
    return place === '' ? what : `${place}: ${what}`;
  });
  const more = error.issues.length - told.length;
  return more > 0 ? `${told.join('; ')}; and ${more} more` : told.join('; ');
};
