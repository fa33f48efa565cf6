import { dialFromMarks, placeOf, readingOf, type Dial, type DialMark } from '../dial';
import { unitChange } from '../units';

/** The unit of a place on an unknown dial: 0 at the low end of its arc, 1 at the high end. */
export const ARC_UNIT = 'arc';

/** What is printed on a dial, as far as it is known: its marks, or the lowest and highest reading alone. */
export type ArcScale = {
  readonly unit: string;
  readonly marks: readonly DialMark[];
  readonly lowest: number;
  readonly highest: number;
};

/** Turns readings into places on the arc (0 to 1, rising with the reading) and back. */
export type Arc = {
  /** Undefined where the units measure different things. A percentage of a dial in degrees is a part of its arc. */
  readonly place: (reading: number, unit: string) => number | undefined;
  readonly reading: (place: number) => number;
};

/** Source: `placeOf` where the marks are known; a straight scale between lowest and highest where they are not. */
export function arcOf({ unit, marks, lowest, highest }: ArcScale): Arc {
  const dial = usable(marks);
  const span = highest - lowest || 1;
  const inUnit = (reading: number): number =>
    dial === undefined ? (reading - lowest) / span : placeOf(dial, reading);
  return {
    place: (reading, given) => {
      if (given === ARC_UNIT) return reading;
      const change = unitChange(given, unit);
      if (given === '' || unit === '') return inUnit(reading);
      if (change.kind === 'unit-change') return inUnit(change.factor * reading + change.offset);
      return given === '%' ? reading / 100 : undefined;
    },
    reading: (place) => (dial === undefined ? lowest + place * span : readingOf(dial, place)),
  };
}

function usable(marks: readonly DialMark[]): Dial | undefined {
  const dial = dialFromMarks(marks.filter(({ angleFraction }) => angleFraction >= 0 && angleFraction <= 1));
  return 'code' in dial ? undefined : dial;
}
