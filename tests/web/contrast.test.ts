import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const styleFolder = fileURLToPath(new URL('../../host/web/style/', import.meta.url));
const sheet = (name: string): string => readFileSync(`${styleFolder}${name}`, 'utf8');

type Look = ReadonlyMap<string, string>;

const coloursOf = (css: string): Look =>
  new Map([...css.matchAll(/--([\w-]+):\s*(#[\da-f]{6})\b/gi)].map(([, name, value]) => [name!, value!]));

const day = coloursOf(sheet('tokens.css'));
const looks: Readonly<Record<string, Look>> = {
  day,
  night: new Map([...day, ...coloursOf(sheet('night.css'))]),
};

/** Relative luminance of an sRGB colour. Source: WCAG 2.2, definition of "relative luminance". */
function luminance(hex: string): number {
  const [red, green, blue] = [1, 3, 5]
    .map((at) => Number.parseInt(hex.slice(at, at + 2), 16) / 255)
    .map((part) => (part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4));
  return 0.2126 * red! + 0.7152 * green! + 0.0722 * blue!;
}

/** Source: WCAG 2.2, definition of "contrast ratio": (L1 + 0.05) / (L2 + 0.05), the lighter first. */
function contrast(one: string, other: string): number {
  const [dark, light] = [luminance(one), luminance(other)].sort((a, b) => a - b);
  return (light! + 0.05) / (dark! + 0.05);
}

/** Source: WCAG 2.2, success criteria 1.4.3 (text) and 1.4.11 (parts of controls, and of pictures that say something). */
const TEXT = 4.5;
const SIGN = 3;

/** Everything that is read or tells something, on everything it lies on. */
const pairs: readonly (readonly [over: string, under: string, least: number])[] = [
  ...['ink', 'ink2', 'pen', 'good', 'doubt', 'bad', 'needle'].map((over) => [over, 'sheet', TEXT] as const),
  ...['ink', 'ink2', 'pen', 'good', 'doubt', 'bad'].map((over) => [over, 'tint', TEXT] as const),
  ['needle', 'tint', SIGN],
  ['pen', 'penwash', TEXT],
  ['ink', 'penwash', TEXT],
  ['onplate', 'plate', TEXT],
  ['plate', 'sheet', SIGN],
  ['edge', 'sheet', SIGN],
  ['edge', 'tint', SIGN],
  ['onstop', 'stop', TEXT],
  ['stop', 'sheet', SIGN],
  ...['panel', 'face'].flatMap((under) =>
    ['lit', 'dim', 'facepen', 'facegood', 'facedoubt', 'faceneedle'].map(
      (over) => [over, under, TEXT] as const,
    ),
  ),
  ['onpanelplate', 'panelplate', TEXT],
  ['panelplate', 'panel', SIGN],
];

/** Hairlines, hatching, the flat hub, and real leads, outlined and named: never the only sign of anything. */
const QUIET = [
  ...['rule', 'grid', 'hatch', 'faint', 'hub'],
  ...['leadred', 'leadyellow', 'leadblack', 'leadblue'],
  // What a sheet that will be printed lies on; its ink is the sheet's own.
  'paper',
];

describe('the colours of the page', () => {
  it.each(
    Object.keys(looks).flatMap((look) => pairs.map(([over, under, least]) => ({ look, over, under, least }))),
  )('by $look, $over on $under can be told at $least to 1', ({ look, over, under, least }) => {
    const [front, back] = [over, under].map((name) => looks[look]?.get(name));
    expect(contrast(front!, back!)).toBeGreaterThanOrEqual(least);
  });

  it('are all held to a contrast, but for hairlines', () => {
    const held = new Set([...pairs.flatMap(([over, under]) => [over, under]), ...QUIET]);
    expect([...day.keys()].filter((name) => !held.has(name))).toEqual([]);
  });

  it('reckon black on white at 21 to 1 and a mid grey as published', () => {
    expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 6);
    // Source: W3C, Understanding SC 1.4.3: #767676 on white is 4.54 to 1, the lightest grey that meets 4.5.
    expect(contrast('#767676', '#ffffff')).toBeCloseTo(4.54, 2);
  });

  it('are named nowhere else in the sheets but as tokens', () => {
    const others = readdirSync(styleFolder)
      .filter((name) => name.endsWith('.css') && !['tokens.css', 'night.css', 'print.css'].includes(name))
      .map((name) => readFileSync(`${styleFolder}${name}`, 'utf8'));
    expect(others.flatMap((css) => css.match(/#[\da-f]{3,8}\b/gi) ?? [])).toEqual([]);
  });
});
