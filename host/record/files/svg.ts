import { readFileSync } from 'node:fs';
import type { Drawing, Item, PathItem, Picture, PictureItem, TextItem } from '../paper/items';
import type { Face, Fonts } from './fonts';

const fine = (value: number): string => String(Number(value.toFixed(2)));

/** Source: XML 1.0, 2.4; control characters have no place in it at all. */
const escaped = (text: string): string =>
  text
    .replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/g, '')
    .replace(/&/g, '&amp;')
    .replace(/</g, '&lt;')
    .replace(/>/g, '&gt;')
    .replace(/"/g, '&quot;');

/** As an attribute; nothing where there is nothing. */
const attribute = (name: string, value: string | number | undefined): string =>
  value === undefined ? '' : ` ${name}="${typeof value === 'number' ? fine(value) : value}"`;

const FAMILY: Readonly<Record<TextItem['font'], string>> = {
  text: "'Sofia Sans', sans-serif",
  strong: "'Sofia Sans', sans-serif",
  engraved: "'National Park', 'Sofia Sans', sans-serif",
};

export type SvgWish = {
  /** The letters within the file: it looks the same where the fonts are not there. */
  readonly withFonts?: Fonts;
  /** Before the names of what is referred to; two drawings of one page must differ in it. */
  readonly idPrefix: string;
  /** Where a photograph is fetched from; left out, it lies within the file. */
  readonly addressOf?: (picture: Picture) => string;
};

/**
 * A drawing as one SVG document, the same for the same drawing; its texts can be marked, copied and read aloud.
 * Source: SVG 1.1; WAI-ARIA Graphics Module, graphics-document.
 */
export function svgOf(drawing: Drawing, wish: SvgWish): string {
  const { withFonts } = wish;
  const { width, height, title } = drawing;
  const clips: string[] = [];
  const body = drawing.items.map((item) => itemText(item, clips, wish)).join('\n');
  const style = withFonts === undefined ? '' : `<style>${fontFaces(drawing.items, withFonts)}</style>`;
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${fine(width)}" height="${fine(height)}" viewBox="0 0 ${fine(width)} ${fine(height)}" role="graphics-document document" aria-label="${escaped(title)}">`,
    `<title>${escaped(title)}</title>`,
    style,
    clips.length === 0 ? '' : `<defs>${clips.join('')}</defs>`,
    body,
    '</svg>',
  ].join('');
}

function itemText(item: Item, clips: string[], wish: SvgWish): string {
  switch (item.kind) {
    case 'text':
      return letters(item);
    case 'path':
      return path(item);
    case 'picture':
      return photograph(item, wish);
    case 'group': {
      const { clip } = item;
      const id = `${wish.idPrefix}${clips.length}`;
      if (clip !== undefined)
        clips.push(
          `<clipPath id="${id}"><rect${attribute('x', clip.x)}${attribute('y', clip.y)}${attribute('width', clip.width)}${attribute('height', clip.height)}/></clipPath>`,
        );
      const inside = item.items.map((each) => itemText(each, clips, wish)).join('\n');
      const moved = item.x === 0 && item.y === 0 ? [] : [`translate(${fine(item.x)} ${fine(item.y)})`];
      const place = [...moved, ...(item.scale === undefined ? [] : [`scale(${item.scale})`])].join(' ');
      return `<g${attribute('transform', place === '' ? undefined : place)}${clip === undefined ? '' : ` clip-path="url(#${id})"`}>${inside}</g>`;
    }
  }
}

const letters = ({ x, y, text, font, size, colour, anchor }: TextItem): string =>
  `<text${attribute('x', x)}${attribute('y', y)} font-family="${FAMILY[font]}"${attribute('font-size', size)}${font === 'text' ? '' : ' font-weight="600"'} font-feature-settings="'tnum'" fill="${colour}"${anchor === 'start' ? '' : ` text-anchor="${anchor}"`} xml:space="preserve">${escaped(text)}</text>`;

const path = ({ d, fill, stroke, width, dash, opacity }: PathItem): string =>
  `<path d="${d}" fill="${fill ?? 'none'}"${attribute('stroke', stroke)}${attribute('stroke-width', width)}${dash === undefined ? '' : ` stroke-dasharray="${dash.join(' ')}"`}${attribute('opacity', opacity)}/>`;

const within = ({ kind, bytes }: Picture): string =>
  `data:image/${kind};base64,${Buffer.from(bytes).toString('base64')}`;

const photograph = ({ x, y, width, height, picture }: PictureItem, { addressOf = within }: SvgWish): string =>
  `<image${attribute('x', x)}${attribute('y', y)}${attribute('width', width)}${attribute('height', height)} href="${escaped(addressOf(picture))}"/>`;

function* textsIn(items: readonly Item[]): Generator<TextItem> {
  for (const item of items) {
    if (item.kind === 'text') yield item;
    else if (item.kind === 'group') yield* textsIn(item.items);
  }
}

/** Only the faces that the drawing writes in. */
function fontFaces(items: readonly Item[], fonts: Fonts): string {
  const faces = new Map<string, Face>();
  for (const { text, font } of textsIn(items))
    for (const { face } of fonts.runsOf(text, font)) faces.set(face.name, face);
  return [...faces.values()]
    .sort((one, other) => (one.name < other.name ? -1 : 1))
    .map((face) => {
      const data = readFileSync(`${face.path}2`).toString('base64');
      return `@font-face{font-family:'${face.family}';font-weight:${face.weight};src:url(data:font/woff2;base64,${data}) format('woff2')}`;
    })
    .join('');
}
