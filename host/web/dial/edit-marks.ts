import { typedNumber } from '../../core/text/number';
import type { Mark } from '../../job/schema/gauge';
import { marksAlongArc, readingFromFraction } from './dial-geometry';

export const MOST_MARKS = 60;
const FEWEST_MARKS = 2;
/** Marks nearer than this could not be told apart on a drawn arc. */
const LEAST_GAP_FRACTION = 0.005;
/** A new mark's value is as fine as this part of the scale: nobody prints finer. */
const READING_PARTS = 100;

/** The marks with one of them changed. */
export const editMark = (marks: readonly Mark[], index: number, part: Partial<Mark>): Mark[] =>
  marks.map((mark, place) => (place === index ? { ...mark, ...part } : mark));

/** The marks without one of them; unchanged when a scale would have too few left. */
export const withoutMark = (marks: readonly Mark[], index: number): Mark[] =>
  marks.length > FEWEST_MARKS ? marks.filter((_, place) => place !== index) : [...marks];

export const canLose = (marks: readonly Mark[]): boolean => marks.length > FEWEST_MARKS;

const finer = (fraction: number): number => Math.round(fraction * 1000) / 1000;

/** The marks, in order along the arc, with one of them moved as far as its neighbours and the ends of the arc let it. */
export function movedMark(marks: readonly Mark[], index: number, fraction: number): Mark[] {
  const low = marks[index - 1];
  const high = marks[index + 1];
  const least = low === undefined ? 0 : low.angleFraction + LEAST_GAP_FRACTION;
  const most = high === undefined ? 1 : high.angleFraction - LEAST_GAP_FRACTION;
  if (!(least <= most)) return [...marks];
  return editMark(marks, index, { angleFraction: Math.min(most, Math.max(least, finer(fraction))) });
}

/** One mark more at a place on the arc, with the value the scale has there; undefined where there is no room. */
export function markAt(
  marks: readonly Mark[],
  fraction: number,
): { readonly marks: Mark[]; readonly index: number } | undefined {
  const place = finer(Math.min(1, Math.max(0, fraction)));
  const isTaken = marks.some((mark) => Math.abs(mark.angleFraction - place) < LEAST_GAP_FRACTION);
  const exact = readingFromFraction(marks, place);
  if (isTaken || exact === undefined || marks.length >= MOST_MARKS) return undefined;
  const index = marks.filter((mark) => mark.angleFraction < place).length;
  const reading = roundBetween(exact, marks[index - 1]?.reading, marks[index]?.reading, stepOf(marks));
  const label = String(Number(reading.toPrecision(6)));
  const mark = { label, reading, angleFraction: place };
  return { marks: [...marks.slice(0, index), mark, ...marks.slice(index)], index };
}

/** One mark more, in the widest gap, half way: where a mark is most likely missing. */
export function withMark(marks: readonly Mark[]): Mark[] {
  let widest = 1;
  for (let index = 2; index < marks.length; index += 1) {
    if (gapBefore(marks, index) > gapBefore(marks, widest)) widest = index;
  }
  return markAfter(marks, widest - 1)?.marks ?? [...marks];
}

/** One mark more, half way to the next one; before the last one when there is no next. */
export function markAfter(marks: readonly Mark[], index: number): ReturnType<typeof markAt> {
  const high = Math.max(1, Math.min(index + 1, marks.length - 1));
  const [from, to] = [marks[high - 1], marks[high]];
  return from && to && markAt(marks, (from.angleFraction + to.angleFraction) / 2);
}

/** A number as label says what the mark stands for, where that runs the same way as the marks beside it. */
export function labelledMark(marks: readonly Mark[], index: number, label: string): Mark[] {
  const typed = typedNumber(label);
  const renamed = editMark(marks, index, { label });
  if (typed.kind === 'refused') return renamed;
  const valued = editMark(renamed, index, { reading: typed.value });
  return marksProblem(valued) === undefined ? valued : renamed;
}

/** What a mark stands for; a label that was that number follows it. */
export function valuedMark(marks: readonly Mark[], index: number, reading: number): Mark[] {
  const mark = marks[index];
  const isNumber = mark !== undefined && Number(mark.label) === mark.reading && mark.label.trim() !== '';
  return editMark(marks, index, { reading, ...(isNumber ? { label: String(reading) } : {}) });
}

/** How finely a value is given to a place on this scale; 0 for a scale of no width. */
export const stepOf = (marks: readonly Mark[]): number => {
  const span = Math.abs((marks.at(-1)?.reading ?? 0) - (marks[0]?.reading ?? 0));
  return span === 0 ? 0 : 10 ** Math.floor(Math.log10(span / READING_PARTS));
};

/** The nearest whole number of steps; the value itself where there is no step. */
export const roundTo = (value: number, step: number): number =>
  step > 0 ? Number((Math.round(value / step) * step).toPrecision(12)) : value;

/** The rounded value, unless rounding ran it into a neighbour. */
function roundBetween(
  exact: number,
  low: number | undefined,
  high: number | undefined,
  step: number,
): number {
  if (!(step > 0)) return exact;
  const rounded = roundTo(exact, step);
  return rounded === low || rounded === high ? exact : rounded;
}

const gapBefore = (marks: readonly Mark[], index: number): number =>
  (marks[index]?.angleFraction ?? 0) - (marks[index - 1]?.angleFraction ?? 0);

/** What the host would refuse, said at once: places must differ and readings must run one way along the arc. */
export function marksProblem(marks: readonly Mark[]): string | undefined {
  const ordered = marksAlongArc(marks);
  const sign = Math.sign((ordered.at(-1)?.reading ?? 0) - (ordered[0]?.reading ?? 0));
  for (const [index, mark] of ordered.entries()) {
    const before = ordered[index - 1];
    if (before === undefined) continue;
    if (mark.angleFraction === before.angleFraction)
      return `"${before.label}" and "${mark.label}" stand at the same place on the arc.`;
    if (!(sign * (mark.reading - before.reading) > 0))
      return `"${mark.label}" comes after "${before.label}" on the arc, but its value does not run the same way.`;
  }
  return undefined;
}
