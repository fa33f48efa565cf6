import { refuse, type Refused } from '../../core/result';
import { typedNumber } from '../../core/text/number';
import type { Gauge } from '../../job/schema/gauge';
import { scaleOf } from '../../job/schema/scale';
import type { StopEnd } from '../../job/schema/values';
import { fractionFromReading, readingFromFraction } from '../dial/dial-geometry';
import { createSignal, type Signal } from '../signal';

/** Where the person says the needle stands, before it is confirmed. */
export type Entry = {
  readonly fraction: number;
  /** What was typed, when digits were used; an empty text means the needle was dragged. */
  readonly typed: string;
  readonly problem: string | undefined;
  readonly atStop: StopEnd | undefined;
  /** Whether a person put it there for this reading; a reading is never assumed. `before`: it still stands as last confirmed. */
  readonly stands: 'unset' | 'before' | 'now';
};

/** Nobody has said yet where the needle stands. */
export const UNSET: Entry = {
  fraction: 0.5,
  typed: '',
  problem: undefined,
  atStop: undefined,
  stands: 'unset',
};

export const createEntry = (): Signal<Entry> => createSignal<Entry>(UNSET);

export const turned = (fraction: number): Entry => ({ ...UNSET, fraction, stands: 'now' });

/** After it was confirmed: the same place, or the same stop, may be confirmed again, but only as a needle that did not move. */
export const confirmed = (entry: Entry): Entry => ({ ...entry, typed: '', stands: 'before' });

const LABEL_ROUNDING = 0.01;

/** Digits, shorthand, or what is printed at a mark ("E", "1/2", "H"). */
export function readingTyped(
  gauge: Gauge,
  text: string,
): { readonly kind: 'reading'; readonly reading: number } | Refused {
  const wanted = text.trim().toLowerCase();
  const mark = gauge.marks.find((each) => each.label.trim().toLowerCase() === wanted);
  const typed = typedNumber(text);
  // A number that is its mark's own reading, rounded for the dial, is taken to the digit as it was typed.
  const room = LABEL_ROUNDING * scaleOf(gauge.marks).span;
  const isOwnReading =
    typed.kind === 'number' && mark !== undefined && Math.abs(typed.value - mark.reading) <= room;
  if (mark !== undefined && !isOwnReading) return { kind: 'reading', reading: mark.reading };
  if (typed.kind === 'refused')
    return { ...typed, message: `${typed.message.replace(/\.$/, '')}, or what is printed at a mark.` };
  const fraction = fractionFromReading(gauge.marks, typed.value);
  const back = fraction === undefined ? undefined : readingFromFraction(gauge.marks, fraction);
  if (back === undefined || Math.abs(back - typed.value) > 1e-9 * Math.max(1, Math.abs(typed.value))) {
    return refuse(
      'READING_OFF_DIAL',
      `${text} is off this dial. If the needle is on the stop, use the stop buttons.`,
    );
  }
  return { kind: 'reading', reading: typed.value };
}

/** What was typed moves the drawn needle with every key, so the eye can check it. */
export function typedEntry(gauge: Gauge, entry: Entry, text: string): Entry {
  const untyped: Entry = {
    ...entry,
    typed: text,
    problem: undefined,
    atStop: undefined,
    // Off its stop nobody knows where the needle is.
    stands: entry.atStop === undefined ? entry.stands : 'unset',
  };
  if (text.trim() === '') return untyped;
  const result = readingTyped(gauge, text);
  if (result.kind === 'refused') return { ...untyped, problem: result.message };
  return {
    ...untyped,
    fraction: fractionFromReading(gauge.marks, result.reading) ?? entry.fraction,
    stands: 'now',
  };
}

/** The reading that would be confirmed now, in dial units; undefined while it is not given, or not understood. */
export function entryReading(gauge: Gauge, entry: Entry): number | undefined {
  if (entry.problem !== undefined || entry.stands === 'unset') return undefined;
  const typed = entry.typed.trim() === '' ? undefined : readingTyped(gauge, entry.typed);
  return typed?.kind === 'reading' ? typed.reading : readingFromFraction(gauge.marks, entry.fraction);
}
