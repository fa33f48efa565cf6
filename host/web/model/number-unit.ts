import { refuse, type Refused } from '../../core/result';
import { typedNumber, type TypedNumber } from '../../core/typed-number';
import { shownUnit } from './words';

/** Units as people write them behind a figure. A lone K is kelvin only where kelvin are asked for: elsewhere it is a thousand. */
const BEHIND: readonly (readonly [unit: string, words: RegExp])[] = [
  ['degC', /[\u00b0\u00ba]?\s*C$/i],
  ['degF', /[\u00b0\u00ba]?\s*F$/i],
  ['mV', /mV$/],
  ['V', /V(olts?)?$/i],
  ['ohm', /(ohms?|\u03a9|\u2126)$/i],
  ['kPa', /kPa$/i],
  ['bar', /bar$/i],
  ['psi', /psi$/i],
  ['%', /%$/],
  ['L', /(L|lit(re|er)s?)$/i],
];

/** A number with or without its unit; another unit than the field's is refused, never read as if it were the field's. */
export function typedIn(text: string, unit: string | undefined): TypedNumber | Refused {
  const trimmed = text.trim().replace(/^\u00b1\s*/, '');
  if (unit === 'K') {
    // "2 K" is two kelvin here, not two thousand.
    return typedNumber(trimmed.replace(/(?<=\d)\s*K$/i, ''));
  }
  const found =
    unit === undefined || !/\d/.test(trimmed) ? undefined : BEHIND.find(([, words]) => words.test(trimmed));
  if (found === undefined) return typedNumber(trimmed);
  const [written, words] = found;
  if (shownUnit(written) !== shownUnit(unit ?? ''))
    return refuse('TYPED_OTHER_UNIT', `"${text}": this field takes ${shownUnit(unit ?? '')}; turn it first.`);
  return typedNumber(trimmed.replace(words, ''));
}
