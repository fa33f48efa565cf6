/** Words of headings and units as they are written in tables of the trade. */
const UNITS: readonly (readonly [unit: string, words: RegExp])[] = [
  ['degC', /[\u00b0\u00ba]\s*C\b|\bdeg\.?\s*C\b|celsius|centigrade|[_([]C\b/i],
  ['degF', /[\u00b0\u00ba]\s*F\b|\bdeg\.?\s*F\b|fahrenheit|[_([]F\b/i],
  ['kPa', /\bkPa\b|_kPa/i],
  ['bar', /\bbar\b|_bar\b/i],
  ['psi', /\bpsi\b|_psi\b/i],
  ['US gal', /US[ _.-]*gal/i],
  ['imp gal', /imp(erial)?[ _.-]*gal/i],
  ['L', /\blit(re|er)s?\b|[_([]L\b/i],
  ['%', /%|percent/i],
];

/** The unit that a heading names; undefined when it names none that is known. */
export const unitInWords = (heading: string): string | undefined =>
  UNITS.find(([, words]) => words.test(heading))?.[0];

export const ohmWords = (heading: string): boolean => /ohm|\u03a9|\u2126|resist|\bR\b/i.test(heading);

export const kilohms = (words: string): boolean => /k[ _]?(ohm|\u03a9|\u2126)/i.test(words);

const UNIT_AT_END =
  /(\d)\s*([\u00b0\u00ba]\s*[CF]|deg\.?\s*[CF]|C|F|kPa|bar|psi|%|L|litres?|ohms?|\u03a9|\u2126|R)$/i;

/** A figure without the unit behind it: "40 °C", "1200 ohm". Kilohms stay: they are part of the figure. */
export const withoutUnit = (cell: string): string => cell.trim().replace(UNIT_AT_END, '$1');
