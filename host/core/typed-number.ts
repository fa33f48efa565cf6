import { refuse, type Refused } from './result';

export type TypedNumber = { readonly kind: 'number'; readonly value: number };
type Multiplier = { readonly letters: string; readonly factor: number };

/** SI and bench shorthand: R or a bare ohm sign marks the decimal place of a resistance, k and M scale it. */
const MULTIPLIERS: readonly Multiplier[] = [
  { letters: 'rR', factor: 1 },
  { letters: 'kK', factor: 1e3 },
  { letters: 'M', factor: 1e6 },
];
/** Spaces of every kind and the apostrophe separate thousands in handwriting; they never carry a meaning here. */
const SEPARATORS = /[\s\u00a0\u2009\u202f']/g;
const OHM_SUFFIX = /(ohms?|\u03a9|\u2126)$/i;
const LONGEST_TYPED = 40;

/**
 * Reads a number the way people type one: `1200`, `1,200`, `1 200`, `1k2`, `1.2k`, `4R7`, `12,5`, `1.234,5`, `90 ohm`.
 * One comma before exactly three digits is a thousands mark (`1,200`), any other single comma is a decimal comma.
 * Source: derived here; the shorthand `1k2` is the marking code of IEC 60062 (from memory, not checked).
 * Refuses: TYPED_EMPTY, TYPED_NOT_A_NUMBER, TYPED_AMBIGUOUS, TYPED_TOO_LARGE.
 */
export function typedNumber(text: string): TypedNumber | Refused {
  const compact = text
    .slice(0, LONGEST_TYPED)
    .replace(SEPARATORS, '')
    .replace(/\u2212/g, '-')
    .replace(OHM_SUFFIX, '');
  if (compact === '') return refuse('TYPED_EMPTY', 'Type a number, for example 120 or 1.2k.');
  const sign = compact.startsWith('-') ? -1 : 1;
  const body = compact.replace(/^[-+]/, '');
  const scaled = withMultiplier(body);
  const plain = plainDecimal(scaled.digits);
  if (plain === undefined) return misread(text);
  const value = sign * Number(plain) * scaled.factor;
  if (!(Math.abs(value) <= 1e9))
    return refuse('TYPED_TOO_LARGE', `"${text}" is larger than anything measured here.`);
  return { kind: 'number', value };
}

function misread(text: string): Refused {
  return /^[\d.,\s]+$/.test(text)
    ? refuse(
        'TYPED_AMBIGUOUS',
        `"${text}" can be read in two ways; type it without separators, for example 1200.5.`,
      )
    : refuse('TYPED_NOT_A_NUMBER', `"${text}" is not a number; type it like 120, 1.2k or 1k2.`);
}

function withMultiplier(body: string): { readonly digits: string; readonly factor: number } {
  for (const { letters, factor } of MULTIPLIERS) {
    const at = [...body].findIndex((character) => letters.includes(character));
    if (at < 0) continue;
    const after = body.slice(at + 1);
    if (after === '') return { digits: body.slice(0, at), factor };
    const isInfix = /^\d+$/.test(body.slice(0, at)) && /^\d+$/.test(after);
    return { digits: isInfix ? `${body.slice(0, at)}.${after}` : '', factor };
  }
  return { digits: body, factor: 1 };
}

/** The digits with one decimal point and no thousands marks, or undefined when they cannot be told apart. */
function plainDecimal(digits: string): string | undefined {
  const commas = digits.split(',').length - 1;
  const points = digits.split('.').length - 1;
  if (!/^[\d.,]+$/.test(digits) || !/\d/.test(digits)) return undefined;
  if (commas === 0) return points <= 1 ? digits : ungrouped(digits, '.');
  if (points === 0) return commas === 1 ? oneComma(digits) : ungrouped(digits, ',');
  const decimal = digits.lastIndexOf('.') > digits.lastIndexOf(',') ? '.' : ',';
  const [whole = '', fraction = ''] = digits.split(decimal);
  if (digits.split(decimal).length !== 2) return undefined;
  const grouped = ungrouped(whole, decimal === '.' ? ',' : '.');
  return grouped === undefined ? undefined : `${grouped}.${fraction}`;
}

function oneComma(digits: string): string {
  return /^[1-9]\d{0,2},\d{3}$/.test(digits) ? digits.replace(',', '') : digits.replace(',', '.');
}

function ungrouped(digits: string, mark: ',' | '.'): string | undefined {
  const groups = digits.split(mark);
  const isGrouped = groups.every((group, index) => (index === 0 ? /^\d{1,3}$/ : /^\d{3}$/).test(group));
  return isGrouped ? groups.join('') : undefined;
}
