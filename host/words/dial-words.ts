import { dialFromMarks, placeOf, readingOf } from '../core/dial';
import { isRefused } from '../core/refusal';
import type { Gauge } from '../job/schema/gauge';
import type { DialWords } from './diagnosis';

/** Places of the needle, parts of the scale, as readings of this dial. */
export function dialWordsOf({ marks, unit }: Pick<Gauge, 'marks' | 'unit'>): DialWords {
  const dial = dialFromMarks(marks);
  const known = isRefused(dial) ? undefined : dial;
  const ends = marks.map(({ reading }) => reading);
  const [low, high] = [placeOf(known, Math.min(...ends)), placeOf(known, Math.max(...ends))];
  return { unit, reading: (place) => readingOf(known, low + place * (high - low)) };
}
