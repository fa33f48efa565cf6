import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import * as fontkit from 'fontkit';
import type { Font } from '../paper/items';
import type { Letters, OutlinePlace } from '../paper/letters';

/** One file of letters; the families come in several, each for some of the world's letters. */
export type Face = {
  readonly name: string;
  readonly path: string;
  readonly family: string;
  readonly weight: 400 | 600;
  readonly has: (codePoint: number) => boolean;
  readonly widthOf: (text: string, size: number) => number;
  /** Outlines of the text from the foot of its first letter, as path data. */
  readonly outlineOf: (text: string, place: OutlinePlace) => string;
};

/** A stretch of a text in the letters of one face. */
export type Run = { readonly face: Face; readonly text: string };

const places = createRequire(import.meta.url);

/** Figures of one width, so that columns stand straight. Source: OpenType feature registry, tnum. */
export const FEATURES: ('tnum' | 'kern')[] = ['tnum', 'kern'];

function faceOf(family: 'National Park' | 'Sofia Sans', script: string, weight: 400 | 600): Face {
  const slug = family.toLowerCase().replace(' ', '-');
  const name = `${slug}-${script}-${weight}-normal`;
  const path = places.resolve(`@fontsource/${slug}/files/${name}.woff`);
  const opened = fontkit.create(readFileSync(path));
  if (!('layout' in opened)) throw new Error(`${path} holds more than one face`);
  return {
    name,
    path,
    family,
    weight,
    has: (codePoint) => opened.hasGlyphForCodePoint(codePoint),
    widthOf: (text, size) => (opened.layout(text, FEATURES).advanceWidth * size) / opened.unitsPerEm,
    outlineOf: (text, place) => outline(opened, text, place),
  };
}

/** The letters stand upright in their own space and hang in the paper's, hence the sign of y. */
function outline(opened: fontkit.Font, text: string, { x, y, size, degrees }: OutlinePlace): string {
  const run = opened.layout(text, FEATURES);
  const scale = size / opened.unitsPerEm;
  const turn = (degrees * Math.PI) / 180;
  const [cos, sin] = [Math.cos(turn) * scale, Math.sin(turn) * scale];
  let along = -run.advanceWidth / 2;
  return run.glyphs
    .map((glyph, index) => {
      const from = along;
      along += run.positions[index]?.xAdvance ?? glyph.advanceWidth;
      return glyph.path
        .transform(1, 0, 0, 1, from, -opened.capHeight / 2)
        .transform(cos, sin, sin, -cos, x, y)
        .toSVG();
    })
    .join('');
}

const sofia = (weight: 400 | 600): Face[] =>
  ['latin', 'latin-ext', 'greek', 'cyrillic', 'cyrillic-ext'].map((script) =>
    faceOf('Sofia Sans', script, weight),
  );

export type Fonts = Letters & {
  /** A text in the faces that have its letters. One that none has is named by its number: "[U+65E5]". */
  readonly runsOf: (text: string, font: Font) => readonly Run[];
};

/** Nothing is lost of a name: a letter that none of the faces has stands as its number. Source: Unicode, appendix A.1. */
const named = (letter: string): string =>
  `[U+${(letter.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}]`;
/** Only says how its neighbours are joined or shown. Source: UAX 44, Default_Ignorable_Code_Point. */
const isUnseen = (letter: string): boolean => /^\p{Default_Ignorable_Code_Point}$/u.test(letter);

function openFonts(): Fonts {
  const strong = sofia(600);
  const faces: Readonly<Record<Font, readonly Face[]>> = {
    text: sofia(400),
    strong,
    engraved: [
      ...['latin', 'latin-ext', 'vietnamese'].map((script) => faceOf('National Park', script, 600)),
      ...strong,
    ],
  };
  const runsOf = (text: string, font: Font): Run[] => {
    const runs: { face: Face; text: string }[] = [];
    for (const letter of text.normalize('NFC')) {
      const current = runs.at(-1);
      const known = faceFor(faces[font], letter, current?.face);
      if (known === undefined && isUnseen(letter)) continue;
      const face = known ?? faces[font][0];
      if (face === undefined) continue;
      const drawn = known === undefined ? named(letter) : letter;
      if (current?.face === face) current.text += drawn;
      else runs.push({ face, text: drawn });
    }
    return runs;
  };
  const known = new Map<string, number>();
  return {
    runsOf,
    outlineOf: (text, place) => faces.engraved[0]?.outlineOf(text, place) ?? '',
    widthOf: (text, font, size) => {
      const key = `${font} ${text}`;
      const unit =
        known.get(key) ?? runsOf(text, font).reduce((sum, run) => sum + run.face.widthOf(run.text, 1), 0);
      known.set(key, unit);
      return unit * size;
    },
  };
}

const faceFor = (faces: readonly Face[], letter: string, current: Face | undefined): Face | undefined =>
  [...(current === undefined ? [] : [current]), ...faces].find((each) =>
    each.has(letter.codePointAt(0) ?? 0),
  );

let opened: Fonts | undefined;

/** The families of the page, opened when first needed. */
export const recordFonts = (): Fonts => (opened ??= openFonts());
