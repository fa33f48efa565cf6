import type { Notation } from './notation';

/** A sentence made of figures: it starts with a capital and ends with a full stop. */
export type Sentence<Slots> = (slots: Slots, say: Notation) => string;

/** What was wrong, and what to do about it. `remedy` is empty where the first sentence says it. */
export type RefusalWords<Slots> = {
  readonly says: Sentence<Slots>;
  readonly remedy: string;
};

/** Parts of a list as one speaks: "a, b and c". */
export const listed = (parts: readonly string[]): string =>
  parts.length < 2 ? (parts[0] ?? '') : `${parts.slice(0, -1).join(', ')} and ${parts.at(-1) ?? ''}`;

/** One or many of something: "1 reading", "4 readings". */
export const counted = (count: number, one: string, many = `${one}s`): string =>
  `${count} ${count === 1 ? one : many}`;

/** A line of the bench as a sentence: a capital at its start, a stop at its end unless it has one. */
export const asSentence = (line: string): string =>
  `${capital(line)}${line.endsWith('.') || line.endsWith('?') ? '' : '.'}`;

export const capital = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
