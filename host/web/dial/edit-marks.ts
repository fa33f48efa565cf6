import type { Mark } from '../../job/gauge';

export const MOST_MARKS = 60;

/** The marks with one of them changed. */
export const editMark = (marks: readonly Mark[], index: number, part: Partial<Mark>): Mark[] =>
  marks.map((mark, place) => (place === index ? { ...mark, ...part } : mark));

export const withoutMark = (marks: readonly Mark[], index: number): Mark[] =>
  marks.filter((_, place) => place !== index);

/** One mark more, in the widest gap, half way: where a mark is most likely missing. */
export function withMark(marks: readonly Mark[]): Mark[] {
  let widest = 1;
  for (let index = 2; index < marks.length; index += 1) {
    if (gapBefore(marks, index) > gapBefore(marks, widest)) widest = index;
  }
  const low = marks[widest - 1];
  const high = marks[widest];
  if (low === undefined || high === undefined) return [...marks];
  const reading = (low.reading + high.reading) / 2;
  const between = {
    label: String(reading),
    reading,
    angleFraction: (low.angleFraction + high.angleFraction) / 2,
  };
  return [...marks.slice(0, widest), between, ...marks.slice(widest)];
}

const gapBefore = (marks: readonly Mark[], index: number): number =>
  (marks[index]?.angleFraction ?? 0) - (marks[index - 1]?.angleFraction ?? 0);

/** What the host would refuse, said at once: places must differ and readings must run one way along the arc. */
export function marksProblem(marks: readonly Mark[]): string | undefined {
  const ordered = [...marks].sort((one, other) => one.angleFraction - other.angleFraction);
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
