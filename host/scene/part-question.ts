import type { ModelSpecimen, PartInCatalogue } from '../job/wire/catalogue-messages';
import type { ErrorQuestion } from './error-scene';
import type { OhmsQuestion } from './ohms-scene';

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

/** More names beside their lines hide what they name. */
const MOST_NAMED = 6;

/** Those that count, and other curves of the same parts. */
export const drawnSpecimens = (specimens: readonly Lettered[]): readonly Lettered[] =>
  specimens.filter(
    ({ specimen }) => (specimen.counts || specimen.sameAs !== undefined) && specimen.line.length > 1,
  );

const scaleOf = ({ dial, unit, part, marks }: PartInCatalogue): OhmsQuestion['scale'] =>
  part === 'gauge'
    ? { unit, marks: dial.marks }
    : {
        unit,
        marks: marks.map(({ at }, index) => ({
          label: String(Number(at.toPrecision(3))),
          reading: at,
          angleFraction: index / Math.max(1, marks.length - 1),
        })),
      };

/** The curves of a model one over the other. */
export const curvesQuestion = (part: PartInCatalogue, drawn: readonly Lettered[]): OhmsQuestion => ({
  scale: scaleOf(part),
  isRatio: part.quantity === 'temperature',
  lines: drawn.map(({ letter, specimen }, index) => ({
    id: specimen.id,
    name: letter,
    look: index === 0 ? 'curve' : 'sender',
    points: specimen.line.map(([ohm, value]) => ({ ohm, value })),
  })),
  dots: [],
  naming: drawn.length > 1 && drawn.length <= MOST_NAMED ? 'lines' : 'none',
});

/** How far each specimen of a gauge reads from the middle, and the band that holds the next one 95 times of 100. */
export const middleQuestion = (part: PartInCatalogue, drawn: readonly Lettered[]): ErrorQuestion => ({
  scale: scaleOf(part),
  lines: [
    {
      id: 'middle',
      name: 'middle',
      look: 'curve',
      points: part.marks.map(({ middle, next }) => ({
        value: middle,
        error: 0,
        half: (next.to - next.from) / 2,
      })),
    },
    ...drawn.map(({ letter, specimen }) => ({
      id: specimen.id,
      name: drawn.length > MOST_NAMED ? '' : letter,
      look: 'before' as const,
      points: specimen.fromMiddle.map(([value, error]) => ({ value, error })),
    })),
  ],
  dots: [],
});
