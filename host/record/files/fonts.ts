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
  /** A text in the faces that have its letters. A letter that none has stands as a question mark. */
  readonly runsOf: (text: string, font: Font) => readonly Run[];
};

/** The letters that none of the faces has. */
const STAND_IN = '?';

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
      const codePoint = letter.codePointAt(0) ?? 0;
      const current = runs.at(-1);
      const known = [...(current === undefined ? [] : [current.face]), ...faces[font]].find((each) =>
        each.has(codePoint),
      );
      const face = known ?? faces[font][0];
      if (face === undefined) continue;
      const drawn = known === undefined ? STAND_IN : letter;
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

let opened: Fonts | undefined;

/** The families of the page, opened when first needed. */
export const recordFonts = (): Fonts => (opened ??= openFonts());
