/**
 * Widths of the page's own letters as parts of their size, a little more than the widest of their kind: what is placed
 * by them never touches. Source: measured in the two font files of the page (digits 0.50 to 0.66 and 0.45 to 0.58, m and
 * w 0.72 to 0.91, blank 0.21 to 0.28).
 */
type Widths = {
  readonly wide: number;
  readonly figure: number;
  readonly letter: number;
  readonly narrow: number;
};
const ENGRAVED: Widths = { wide: 0.92, figure: 0.66, letter: 0.66, narrow: 0.36 };
const TEXT: Widths = { wide: 0.86, figure: 0.6, letter: 0.53, narrow: 0.4 };

const WIDE = /[mwMW%]/;
const FIGURE = /[0-9A-Z\u03a9\u00b1+\u2212]/;
const NARROW = /[ .,:;iljtfr'()\u00a0\u00b0\u00b7]/;

const widthOf = (text: string, pixel: number, widths: Widths): number =>
  [...text].reduce((sum, each) => {
    const kind = WIDE.test(each)
      ? 'wide'
      : NARROW.test(each)
        ? 'narrow'
        : FIGURE.test(each)
          ? 'figure'
          : 'letter';
    return sum + pixel * widths[kind];
  }, 0);

/** Engraved figures of the strip and of tiles. Pixels. */
export const figureWidth = (text: string, pixel: number): number => widthOf(text, pixel, ENGRAVED);

/** Words in a plot. Pixels. */
export const wordsWidth = (text: string, pixel: number): number => widthOf(text, pixel, TEXT);
