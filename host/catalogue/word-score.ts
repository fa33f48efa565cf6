import { descriptionOf, tokensOf, type Figure } from '../core/catalogue/words';
import type { ShelfCard } from './shelf';

/** A card as words find it: what is said of it, and the ohms at the ends of its scale. */
export type Described = Pick<ShelfCard, 'summary' | 'model' | 'alsoCalled'> & {
  readonly ends: { readonly lowOhm: number | undefined; readonly highOhm: number | undefined } | undefined;
};

/** How well a card fits a description, and by which words. */
export type WordScore = { readonly score: number; readonly matched: readonly string[] };

/** Ohms at an end may differ so much from part to part. Common practice, no source. */
const END_PART = 0.15;
const END_OHM = 3;

/** Every word and every figure of the description that a card bears counts one; the end of a word counts a half. */
export function wordScore(entry: Described, text: string): WordScore {
  const asked = descriptionOf(text);
  const own = tokensOf(textOf(entry));
  const exact = asked.words.filter((word) => own.includes(word));
  const part = asked.words.filter(
    (word) => word.length > 2 && !own.includes(word) && own.some((token) => token.includes(word)),
  );
  const figures = asked.figures.filter((figure) => hasFigure(entry, figure));
  return {
    score: exact.length + 0.5 * part.length + 1.5 * figures.length,
    matched: [
      ...exact,
      ...part,
      ...figures.map(({ value, place }) =>
        place === undefined ? `${value} ohm` : `${value} ohm at the ${place} end`,
      ),
    ],
  };
}

const textOf = ({ summary, model, alsoCalled }: Described): string =>
  [
    ...[summary.description ?? '', model ?? '', ...alsoCalled, summary.kind, summary.quantity],
    ...[summary.mechanism ?? '', summary.unit],
    summary.terminals === undefined ? '' : `${summary.terminals} terminals`,
  ].join(' ');

function hasFigure({ ends: worked, summary }: Described, { value, place }: Figure): boolean {
  const low = [worked?.lowOhm, summary.familyOhm?.lowEnd];
  const high = [worked?.highOhm, summary.familyOhm?.highEnd];
  const ends = place === 'low' ? low : place === 'high' ? high : [...low, ...high];
  return ends.some(
    (ohm) => ohm !== undefined && Math.abs(ohm - value) <= Math.max(END_OHM, END_PART * value),
  );
}
