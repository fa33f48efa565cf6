/** A figure with its unit and, where one was given, the place it belongs to: "90 ohm full". */
export type Figure = {
  readonly value: number;
  readonly unit: string;
  readonly place: 'low' | 'high' | undefined;
};

/** What a description says: words as they stand, and figures. */
export type Description = { readonly words: readonly string[]; readonly figures: readonly Figure[] };

const PLACES: Readonly<Record<string, Figure['place']>> = {
  ...{ empty: 'low', cold: 'low', low: 'low', e: 'low', c: 'low', zero: 'low' },
  ...{ full: 'high', hot: 'high', high: 'high', f: 'high', h: 'high' },
};
const COUNTS: Readonly<Record<string, string>> = { one: '1', two: '2', three: '3', four: '4' };
/** Words that tell no part from another. */
const IDLE = new Set([
  'a',
  'an',
  'and',
  'at',
  'for',
  'from',
  'in',
  'is',
  'it',
  'of',
  'on',
  'the',
  'to',
  'with',
]);

/**
 * Words and figures of a description as a person types it: "90 ohm full, 0 empty, two terminals, thread M14x1.5". A
 * figure before or after a word for an end of the scale belongs to that end; one without a unit is taken to be ohms where
 * it belongs to an end.
 */
export function descriptionOf(text: string): Description {
  const words: string[] = [];
  const figures: Figure[] = [];
  for (const part of text.split(/[,;\n]+/)) {
    const tokens = tokensOf(part);
    const place = tokens.map((token) => PLACES[token]).find((each) => each !== undefined);
    const at = tokens.findIndex((token) => /^\d+(\.\d+)?$/.test(token));
    const unit = tokens[at + 1];
    const isOhms =
      at >= 0 && (unit === 'ohm' || unit === 'ohms' || (place !== undefined && !isOtherUnit(unit)));
    if (isOhms) figures.push({ value: Number(tokens[at]), unit: 'ohm', place });
    words.push(
      ...tokens.filter(
        (token, index) =>
          !IDLE.has(token) &&
          !(isOhms && (index === at || /^ohms?$/.test(token) || PLACES[token] !== undefined)),
      ),
    );
  }
  return { words: [...new Set(words)], figures };
}

const isOtherUnit = (token: string | undefined): boolean =>
  token !== undefined && /^(degc|degf|c|f|psi|bar|kpa|v|volts?|mm|terminals?)$/.test(token);

/** Small letters and digits; thread sizes and part numbers stay whole. Counts are written as figures. */
export const tokensOf = (text: string): string[] =>
  text
    .toLowerCase()
    .replace(/\u03a9|\u2126/g, ' ohm ')
    .replace(/(\d),(\d)/g, '$1.$2')
    .split(/[^\p{L}\p{N}./-]+/u)
    .map((token) => token.replace(/^[./-]+|[./-]+$/g, ''))
    .filter((token) => token !== '')
    .map((token) => COUNTS[token] ?? token);
