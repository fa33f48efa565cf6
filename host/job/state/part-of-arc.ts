import { dialFromMarks, placeOf } from '../../core/dial';
import { isRefused } from '../../core/refusal';
import type { Gauge } from '../schema/gauge';
import { scaleOf } from '../schema/scale';

/** A needle rests near the low end of its scale; else it is looked at in the middle. */
const PART = { rest: 0.1, middle: 0.5 } as const;
const HALF_PART = 0.1;

/** Parts of the arc to one unit of the dial, where the needle rests or in the middle of the scale. */
export function partOfArcAt(gauge: Pick<Gauge, 'marks'>, where: keyof typeof PART): number {
  const dial = dialFromMarks(gauge.marks);
  const known = isRefused(dial) ? undefined : dial;
  const { lowest, highest, span } = scaleOf(gauge.marks);
  const place = (reading: number): number => placeOf(known, reading);
  const at = lowest + PART[where] * span;
  const half = HALF_PART * span;
  return (place(at + half) - place(at - half)) / (2 * half * (place(highest) - place(lowest)));
}
