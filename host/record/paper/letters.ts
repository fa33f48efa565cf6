import type { Font } from './items';

/** The real widths of the letters: whatever is laid out by them fits where it is drawn. */
export type Letters = {
  /** Width of a text of this size, in the unit of the size. */
  readonly widthOf: (text: string, font: Font, size: number) => number;
  /** Engraved letters as outlines, in the middle of a place and turned: seen, and never in the way of the text. */
  readonly outlineOf: (text: string, place: OutlinePlace) => string;
};

export type OutlinePlace = {
  readonly x: number;
  readonly y: number;
  readonly size: number;
  readonly degrees: number;
};

type Way = { readonly letters: Letters; readonly font: Font; readonly size: number; readonly width: number };

/** A word that is wider than its line is broken where it must be. */
function piecesOf(word: string, way: Way): string[] {
  const fits = (text: string): boolean => way.letters.widthOf(text, way.font, way.size) <= way.width;
  if (fits(word)) return [word];
  const pieces: string[] = [];
  let piece = '';
  for (const letter of word) {
    if (piece !== '' && !fits(piece + letter)) {
      pieces.push(piece);
      piece = '';
    }
    piece += letter;
  }
  return [...pieces, piece];
}

const NO_BREAK = '\u00a0';

/** A figure and its unit are one word: "75 %" is not torn. */
const keptTogether = (text: string): string =>
  text.replace(
    /(\d) (?=(?:\u00b0[CF]|%|k?\u03a9|[VWA]|m[AVW]|kPa|bar|psi|mi|km|min|s)(?![\p{L}\d]))/gu,
    `$1${NO_BREAK}`,
  );

/** Lines of a text no wider than the width, broken at blanks; all of it, however long. */
export function wrapped(text: string, way: Way): string[] {
  const lines: string[] = [];
  let current = '';
  for (const word of keptTogether(text)
    .split(/[ \n]+/)
    .filter((each) => each !== '')) {
    for (const piece of piecesOf(word, way)) {
      const joined = current === '' ? piece : `${current} ${piece}`;
      if (way.letters.widthOf(joined, way.font, way.size) <= way.width) current = joined;
      else {
        lines.push(current);
        current = piece;
      }
    }
  }
  return (current === '' ? lines : [...lines, current]).map((each) => each.replaceAll(NO_BREAK, ' '));
}
