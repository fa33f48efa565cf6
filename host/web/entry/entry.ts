import { refuse, type Refused } from '../../core/result';
import { typedNumber } from '../../core/text/number';
import type { Gauge } from '../../job/schema/gauge';
import type { StopEnd } from '../../job/schema/values';
import { printedReading } from '../../job/state/printed-reading';
import { fractionFromReading, readingFromFraction } from '../dial/dial-geometry';
import { WAKE_MS } from '../parts/wake';
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
  /** What speaks against it, and since when it has been on the screen; then it is confirmed twice. */
  readonly doubt?: { readonly words: string; readonly sinceMs: number };
};

/** Nobody has said yet where the needle stands. */
export const UNSET: Entry = {
  fraction: 0.5,
  typed: '',
  problem: undefined,
  atStop: undefined,
  stands: 'unset',
};

/** Whether this is confirmed for good: what speaks against it has been on the screen for a moment, or nothing does. */
export function isMeant(signal: Signal<Entry>, words: string | undefined): boolean {
  const entry = signal.get();
  const nowMs = performance.now();
  if (words === undefined) return true;
  if (entry.doubt?.words === words) return nowMs - entry.doubt.sinceMs >= WAKE_MS;
  signal.set({ ...entry, doubt: { words, sinceMs: nowMs } });
  return false;
}

export const createEntry = (): Signal<Entry> => createSignal<Entry>(UNSET);

export const turned = (fraction: number): Entry => ({ ...UNSET, fraction, stands: 'now' });

/** After it was confirmed: the same place, or the same stop, may be confirmed again, but only as a needle that did not move. */
export const confirmed = ({ doubt, ...entry }: Entry): Entry => ({ ...entry, typed: '', stands: 'before' });

/** Digits, shorthand, or what is printed at a mark ("E", "1/2", "H"). */
export function readingTyped(
  gauge: Gauge,
  text: string,
): { readonly kind: 'reading'; readonly reading: number } | Refused {
  const printed = printedReading(gauge, text);
  if (printed !== undefined) return { kind: 'reading', reading: printed };
  const typed = typedNumber(text);
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
export function typedEntry(gauge: Gauge, { doubt, ...entry }: Entry, text: string): Entry {
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
