import { cubicSlopeAt } from '../numeric/monotone-cubic';
import { angleFractionAt, readingForAngle } from './dial';
import type { Dial } from './dial';

/**
 * Where the needle stands for a reading, as a part of the arc that rises with the reading; without a dial the reading
 * itself. Mechanisms turn a needle, they know nothing of what is printed under it: laws and errors belong here.
 * Source: `angleFractionAt`.
 */
export const placeOf = (dial: Dial | undefined, reading: number): number =>
  dial === undefined ? reading : turned(dial, angleFractionAt(dial, reading));

/** Reading of a place on the arc: the inverse of `placeOf`. Source: `readingForAngle`. */
export const readingOf = (dial: Dial | undefined, place: number): number =>
  dial === undefined ? place : readingForAngle(dial, turned(dial, place));

/**
 * How far the reading goes when the place goes `half` to either side: the longer way, always above zero for a half above
 * zero. Source: definition; the printed scale may be wider on one side than on the other.
 */
export function readingSpread(dial: Dial | undefined, place: number, half: number): number {
  if (dial === undefined) return half;
  const reading = readingOf(dial, place);
  return Math.max(
    Math.abs(readingOf(dial, place + half) - reading),
    Math.abs(readingOf(dial, place - half) - reading),
  );
}

/** Length on the arc of a small step of the reading. Source: slope of the scale times the step. */
export const placeStep = (dial: Dial | undefined, reading: number, step: number): number =>
  dial === undefined ? step : Math.abs(cubicSlopeAt(dial.angleCurve, reading)) * step;

const turned = ({ risesWithAngle }: Dial, part: number): number => (risesWithAngle ? part : 1 - part);
