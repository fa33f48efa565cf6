import { typedNumber } from '../../core/text/number';
import type { Gauge } from '../schema/gauge';
import { scaleOf } from '../schema/scale';

const LABEL_ROUNDING = 0.01;
const PART_OF_A_TANK = /^(\d{1,2})\/(\d{1,2})$/;

/**
 * The reading, in the dial's unit, of what is printed there: the label of a mark ("E", "1/2", "H"), or a part of a tank
 * ("3/4"). Undefined for everything else: also for a number that is its mark's own reading, rounded for the dial, which
 * is taken to the digit as it was typed.
 */
export function printedReading(
  { marks, quantity }: Pick<Gauge, 'marks' | 'quantity'>,
  text: string,
): number | undefined {
  const wanted = text.trim().toLowerCase();
  const { lowest, span } = scaleOf(marks);
  const mark = marks.find((each) => each.label.trim().toLowerCase() === wanted);
  const typed = typedNumber(text);
  const isOwnReading =
    typed.kind === 'number' &&
    mark !== undefined &&
    Math.abs(typed.value - mark.reading) <= LABEL_ROUNDING * span;
  if (mark !== undefined) return isOwnReading ? undefined : mark.reading;
  const [, part, whole] = PART_OF_A_TANK.exec(wanted) ?? [];
  const share = Number(part) / Number(whole);
  return quantity === 'fuel' && share <= 1 ? lowest + share * span : undefined;
}
