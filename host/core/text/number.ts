import { refuse, type Refused } from '../result';
import { unitFromText, unitSymbol, type Family, type Unit } from '../units';

export type TypedNumber = { readonly kind: 'number'; readonly value: number };
/** A number and the unit written behind it, if one was; `1k2` and `4R7` are ohms in shorthand. */
export type MeasuredNumber = TypedNumber & { readonly unit?: Unit; readonly isShorthand?: true };

/** How commas are meant; `unknown` until something tells: `1,200` alone may be 1200 or 1.2. */
export type CommaMeaning = 'decimal' | 'thousands' | 'unknown';

export type NumberOptions = {
  readonly comma?: CommaMeaning;
  /** What the number measures: a K behind it is a kelvin of temperature, a thousand otherwise. */
  readonly family?: Family | undefined;
};

type Multiplier = { readonly letters: string; readonly factor: number };

/** Bench shorthand of resistances: R marks the decimal place, k and M scale it. */
const MULTIPLIERS: readonly Multiplier[] = [
  { letters: 'rR', factor: 1 },
  { letters: 'kK', factor: 1e3 },
  { letters: 'M', factor: 1e6 },
];
const LONGEST_TYPED = 60;
const LARGEST = 1e9;
const SPACES = /[\s\u00a0\u2009\u202f]+/g;
const EXPONENT = /^[+-]?(\d+\.?\d*|\.\d+)e[+-]?\d{1,3}$/i;
const GROUPED_BY_COMMA = /^[1-9]\d{0,2},\d{3}$/;
const GROUPED_BY_POINT = /^[1-9]\d{0,2}\.\d{3}$/;

/**
 * Reads a number as people and spreadsheets write it: `1200`, `1 200`, `1'200`, `1k2`, `1.2k`, `4R7`, `12,5`, `1.234,5`,
 * `1.2e3`, with its unit behind it or not: `90 ohm`, `40 °C`, `1.2 kΩ`. The value is in the unit that is written.
 * The point is the decimal mark; a comma is one where it cannot be anything else, or where `comma` says so. What has two
 * readings (`1,200` alone) is refused with both. Source: derived here; the shorthand `1k2` is the marking code of
 * IEC 60062 (from memory, not checked).
 * Refuses: TYPED_EMPTY, TYPED_NOT_A_NUMBER, TYPED_AMBIGUOUS, TYPED_TOO_LARGE.
 */
export function measuredNumber(
  text: string,
  { comma = 'unknown', family }: NumberOptions = {},
): MeasuredNumber | Refused {
  const trimmed = text
    .slice(0, LONGEST_TYPED)
    .replace(/^[\s\u00b1]+/, '')
    .replace(/[\u2212\u2013]/g, '-')
    .replace(SPACES, ' ')
    .trim();
  if (trimmed === '')
    return refuse('TYPED_EMPTY', 'nothing is written there; type a number, for example 120 or 1.2k');
  if (EXPONENT.test(trimmed)) return sized(text, Number(trimmed));
  const { figures, tail } = apart(trimmed);
  const isKelvin = family === 'temperature' && tail.toLowerCase() === 'k';
  const multiplier = isKelvin ? undefined : MULTIPLIERS.find(({ letters }) => isLetter(letters, tail));
  const unit = tail === '' || multiplier !== undefined ? undefined : unitFromText(tail);
  if (tail !== '' && multiplier === undefined && unit === undefined) return notANumber(text);
  const sign = figures.startsWith('-') ? -1 : 1;
  const body = figures.replace(/^[-+]/, '');
  const scaled = multiplier === undefined ? infix(body) : { digits: body, factor: multiplier.factor };
  if (scaled.digits === '') return notANumber(text);
  const plain = plainDecimal(scaled.digits, comma);
  if (plain.kind === 'refused') return plain.code === 'TYPED_NOT_A_NUMBER' ? notANumber(text) : plain;
  const read = sized(text, sign * Number(plain.digits) * scaled.factor);
  if (read.kind === 'refused') return read;
  if (multiplier !== undefined || scaled.digits !== body) return { ...read, isShorthand: true };
  return unit === undefined ? read : { ...read, unit };
}

/** As `measuredNumber`; the only unit that may stand behind it is the ohm. */
export function typedNumber(text: string, comma: CommaMeaning = 'unknown'): TypedNumber | Refused {
  const read = measuredNumber(text, { comma });
  if (read.kind === 'refused') return read;
  const { value, unit } = read;
  if (unit === undefined) return { kind: 'number', value };
  return unit.family === 'resistance' ? sized(text, value * unit.perUnit) : notANumber(text);
}

/**
 * A number typed into a field that has a unit, with or without that unit behind it. Another unit is refused, never read
 * as if it were the field's. Refuses: as `measuredNumber`, and TYPED_OTHER_UNIT.
 */
export function typedIn(text: string, unit: string | undefined): TypedNumber | Refused {
  const own = unit === undefined ? undefined : unitFromText(unit);
  if (own === undefined || unit === undefined) return typedNumber(text);
  const read = measuredNumber(text, { family: own.family });
  if (read.kind === 'refused') return read;
  const isOther =
    read.isShorthand === true ? own.family !== 'resistance' : (read.unit ?? own).name !== own.name;
  if (isOther)
    return refuse('TYPED_OTHER_UNIT', `"${text}": this field takes ${unitSymbol(unit)}; turn it first.`);
  return { kind: 'number', value: read.value };
}

export type NumberList = { readonly numbers: readonly number[]; readonly wrong: readonly string[] };

/** Several numbers in one field, as one empties a drawer: "10, 22, 4R7, 1k2". Spaces, semicolons and ", " part them. */
export function numberList(text: string): NumberList {
  const words = text
    .split(/[;\s]+|,\s+/)
    .map((word) => word.replace(/,$/, ''))
    .filter((word) => word !== '');
  const read = words.map((word) => ({ word, typed: typedNumber(word) }));
  return {
    numbers: read.flatMap(({ typed }) => (typed.kind === 'number' ? [typed.value] : [])),
    wrong: read.flatMap(({ word, typed }) => (typed.kind === 'refused' ? [word] : [])),
  };
}

/** What one cell tells about the commas of its table. */
export function commaEvidence(cell: string): CommaMeaning {
  const { figures } = apart(cell.trim().replace(SPACES, ''));
  if (/^[+-]?\d{1,3}(,\d{3})+\.\d*$/.test(figures) || /^[+-]?\d{1,3}(,\d{3}){2,}$/.test(figures))
    return 'thousands';
  const isOne = /^[+-]?\d*,\d+$/.test(figures) && !GROUPED_BY_COMMA.test(figures.replace(/^[-+]/, ''));
  return isOne || /^[+-]?\d{1,3}(\.\d{3})+,\d+$/.test(figures) ? 'decimal' : 'unknown';
}

/** True for `1,200`, whose comma may be either. */
export const isTwoWayComma = (cell: string): boolean =>
  GROUPED_BY_COMMA.test(apart(cell.trim()).figures.replace(/^[-+]/, ''));

/** True for figures with one decimal point. */
export const hasDecimalPoint = (cell: string): boolean => /^[-+]?\d+\.\d+$/.test(apart(cell.trim()).figures);

const isLetter = (letters: string, tail: string): boolean => tail.length === 1 && letters.includes(tail);

/** Figures and what stands behind the last of them. `12.` keeps its point. */
function apart(text: string): { readonly figures: string; readonly tail: string } {
  let end = text.length;
  while (end > 0 && !isDigit(text[end - 1])) end -= 1;
  if (end === 0) end = /^[-+.,]*/.exec(text)?.[0].length ?? 0;
  else if (text[end] === '.' || text[end] === ',') end += 1;
  return { figures: text.slice(0, end).trim(), tail: text.slice(end).trim() };
}

const isDigit = (character: string | undefined): boolean =>
  character !== undefined && character >= '0' && character <= '9';

/** `1k2`, `4R7`: the letter stands where the decimal mark would. */
function infix(body: string): { readonly digits: string; readonly factor: number } {
  for (const { letters, factor } of MULTIPLIERS) {
    const at = [...body].findIndex((character) => letters.includes(character));
    if (at < 0) continue;
    const isInfix = /^\d+$/.test(body.slice(0, at)) && /^\d+$/.test(body.slice(at + 1));
    return { digits: isInfix ? `${body.slice(0, at)}.${body.slice(at + 1)}` : '', factor };
  }
  return { digits: body, factor: 1 };
}

type Plain = { readonly kind: 'plain'; readonly digits: string };

/** The digits with one decimal point and no thousands marks; refused where they can be read in two ways, or in none. */
function plainDecimal(written: string, comma: CommaMeaning): Plain | Refused {
  const isSpaced = /[ ']/.test(written);
  if (isSpaced && !/^\d{1,3}(?:[ ']\d{3})+(?:[.,]\d*)?$/.test(written)) return notANumber(written);
  const digits = written.replace(/[ ']/g, '');
  if (!/^[\d.,]+$/.test(digits)) return notANumber(written);
  if (!/\d/.test(digits)) return ambiguous(written);
  const isTwoWay =
    !isSpaced &&
    (comma === 'decimal' ? GROUPED_BY_POINT : comma === 'unknown' ? GROUPED_BY_COMMA : /^$/).test(digits);
  if (isTwoWay) return twoReadings(written);
  const plain = withoutMarks(digits, isSpaced ? 'decimal' : comma);
  return plain === undefined ? ambiguous(written) : { kind: 'plain', digits: plain };
}

function withoutMarks(digits: string, comma: CommaMeaning): string | undefined {
  const commas = digits.split(',').length - 1;
  const points = digits.split('.').length - 1;
  if (commas === 0) return points <= 1 ? digits : ungrouped(digits, '.');
  if (points === 0 && commas === 1) {
    const isThousands = comma === 'thousands' && GROUPED_BY_COMMA.test(digits);
    return digits.replace(',', isThousands ? '' : '.');
  }
  if (points === 0) return ungrouped(digits, ',');
  const decimal = digits.lastIndexOf('.') > digits.lastIndexOf(',') ? '.' : ',';
  const [whole = '', fraction = ''] = digits.split(decimal);
  if (digits.split(decimal).length !== 2) return undefined;
  const grouped = ungrouped(whole, decimal === '.' ? ',' : '.');
  return grouped === undefined ? undefined : `${grouped}.${fraction}`;
}

function ungrouped(digits: string, mark: ',' | '.'): string | undefined {
  const groups = digits.split(mark);
  const isGrouped = groups.every((group, index) => (index === 0 ? /^\d{1,3}$/ : /^\d{3}$/).test(group));
  return isGrouped ? groups.join('') : undefined;
}

function sized(text: string, value: number): TypedNumber | Refused {
  return Math.abs(value) <= LARGEST
    ? { kind: 'number', value }
    : refuse('TYPED_TOO_LARGE', `"${text.trim()}" is larger than anything measured here.`);
}

const notANumber = (text: string): Refused =>
  refuse('TYPED_NOT_A_NUMBER', `"${text}" is not a number; type it like 120, 1.2k or 1k2.`);

const ambiguous = (text: string): Refused =>
  refuse(
    'TYPED_AMBIGUOUS',
    `"${text}" can be read in two ways; type it without separators, for example 1200.5.`,
  );

function twoReadings(text: string): Refused {
  const whole = text.replace(/[.,]/, '');
  return refuse(
    'TYPED_AMBIGUOUS',
    `"${text}" can mean ${whole} or ${text.replace(',', '.')}; write the one you mean.`,
  );
}
