/** What JSON can hold. */
export type Json = null | boolean | number | string | readonly Json[] | { readonly [key: string]: Json };

/** A lone half of a surrogate pair is no text: it has no bytes to take a hash of. */
const LONE_SURROGATE = /[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/;

/**
 * The one way to write a value as JSON, so that its bytes can be hashed: no white space, keys in the order of their UTF-16
 * units, numbers and escapes as ECMAScript writes them.
 * Source: RFC 8785, sections 3.2.2 and 3.2.3. Throws RangeError for what it has no form for: a number that is not finite,
 * half of a surrogate pair.
 */
export function canonicalJson(value: Json): string {
  if (typeof value === 'number' && !Number.isFinite(value))
    throw new RangeError(`${value} is no JSON number`);
  if (typeof value === 'string') return canonicalText(value);
  if (value === null || typeof value !== 'object') return JSON.stringify(value);
  if (isList(value)) return `[${value.map(canonicalJson).join(',')}]`;
  const members = Object.keys(value)
    .sort(byCodeUnit)
    .map((key) => `${canonicalText(key)}:${canonicalJson(value[key] ?? null)}`);
  return `{${members.join(',')}}`;
}

/** Only the escape of a lone half reads so in what JSON.stringify writes. */
const ESCAPED_HALF = '\\ud';

/**
 * Whether it is plain at a glance that a text is in canonical form. False says nothing: then `canonicalJson` decides.
 * Source: RFC 8785 is what ECMAScript writes, but for the order of keys and for half surrogate pairs.
 */
export const isPlainlyCanonical = (text: string, parsed: unknown): boolean =>
  !text.includes(ESCAPED_HALF) && JSON.stringify(parsed) === text && hasKeysInOrder(parsed);

function hasKeysInOrder(value: unknown): boolean {
  if (typeof value !== 'object' || value === null) return true;
  if (Array.isArray(value)) return value.every(hasKeysInOrder);
  const keys = Object.keys(value);
  return keys.every((key, i) => i === 0 || keys[i - 1]! < key) && Object.values(value).every(hasKeysInOrder);
}

function canonicalText(text: string): string {
  if (LONE_SURROGATE.test(text)) throw new RangeError('half of a surrogate pair is no text');
  return JSON.stringify(text);
}

const isList = (value: Json): value is readonly Json[] => Array.isArray(value);
const byCodeUnit = (one: string, other: string): number => (one < other ? -1 : one > other ? 1 : 0);
