import type { ModelSpecimen } from '../../job/wire/catalogue-messages';

/** A specimen and the letter by which plot and table name it. */
export type Lettered = { readonly letter: string; readonly specimen: ModelSpecimen };

const LETTERS = 26;
const FIRST_LETTER = 'A'.charCodeAt(0);

/** A to Z, then A2: oldest first, those that count before the others. */
export const lettered = (specimens: readonly ModelSpecimen[]): readonly Lettered[] =>
  [...specimens]
    .sort(
      (one, other) =>
        Number(other.counts) - Number(one.counts) ||
        (one.measuredAt ?? '').localeCompare(other.measuredAt ?? '', 'en') ||
        one.id.localeCompare(other.id, 'en'),
    )
    .map((specimen, index) => ({
      specimen,
      letter:
        String.fromCharCode(FIRST_LETTER + (index % LETTERS)) +
        (index < LETTERS ? '' : String(1 + Math.floor(index / LETTERS))),
    }));
