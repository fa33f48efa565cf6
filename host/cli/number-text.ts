import { typedNumber } from '../core/typed-number';

/** How commas are meant in a file, found from its other numbers before any is read. */
export type CommaMeaning = 'decimal' | 'thousands' | 'unknown';

export type NumberFromText =
  | { readonly kind: 'number'; readonly value: number }
  | { readonly kind: 'not-a-number'; readonly why: string };

/** `0,125` is not grouped: no one writes a leading zero before a group of thousands. */
const LOOKS_GROUPED_BY_COMMA = /^[+-]?[1-9]\d{0,2},\d{3}$/;
const LOOKS_GROUPED_BY_POINT = /^[+-]?[1-9]\d{0,2}\.\d{3}$/;
const PLAIN_OR_EXPONENT = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i;

/**
 * A number of a file, as people and spreadsheets write it: `1200`, `1,200`, `1k2`, `1.2e3`, `12,5`.
 * Refuses what has two readings (`1,200` where nothing in the file tells what the comma is) and says which two.
 */
export function numberFromText(text: string, comma: CommaMeaning = 'unknown'): NumberFromText {
  const trimmed = text.trim().replace(/^[−–]/u, '-');
  if (trimmed === '') return { kind: 'not-a-number', why: 'nothing is written there' };
  if (hasTwoReadings(trimmed, comma)) return twoReadings(trimmed);
  const plain = comma === 'decimal' && /^[+-]?\d*,\d+$/.test(trimmed) ? trimmed.replace(',', '.') : trimmed;
  if (PLAIN_OR_EXPONENT.test(plain)) return finite(Number(plain), trimmed);
  const typed = typedNumber(plain);
  return typed.kind === 'number' ? finite(typed.value, trimmed) : notANumber(trimmed);
}

/** True for `1,200` where nothing tells whether 1200 or 1.2 is meant, and for `1.200` among decimal commas. */
export function hasTwoReadings(text: string, comma: CommaMeaning = 'unknown'): boolean {
  if (comma === 'decimal') return LOOKS_GROUPED_BY_POINT.test(text);
  return comma === 'unknown' && LOOKS_GROUPED_BY_COMMA.test(text);
}

const notANumber = (text: string): NumberFromText => ({
  kind: 'not-a-number',
  why: `"${text}" is not a number`,
});

const finite = (value: number, text: string): NumberFromText =>
  Number.isFinite(value) ? { kind: 'number', value } : notANumber(text);

function twoReadings(text: string): NumberFromText {
  const whole = text.replace(/[.,]/, '');
  const fraction = text.replace(',', '.');
  return { kind: 'not-a-number', why: `"${text}" can mean ${whole} or ${fraction}; write the one you mean` };
}

/** What one cell tells about the commas of its file. */
export function commaEvidence(text: string): CommaMeaning {
  const trimmed = text.trim();
  if (/^[+-]?\d{1,3}(,\d{3})+\.\d*$/.test(trimmed) || /^[+-]?\d{1,3}(,\d{3}){2,}$/.test(trimmed))
    return 'thousands';
  return /^[+-]?\d*,\d+$/.test(trimmed) && !LOOKS_GROUPED_BY_COMMA.test(trimmed) ? 'decimal' : 'unknown';
}
