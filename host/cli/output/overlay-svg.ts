import { BAR_MM, type Overlay, type Point } from '../../core/overlay/overlay';
import { OVERLAY_CAUTIONS, OVERLAY_PRINT } from '../../words/strap';

const escaped = (text: string): string =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;');

const mm = (value: number): string => String(Number(value.toFixed(4)));
const at = ({ x, y }: Point): string => `x="${mm(x)}" y="${mm(y)}"`;
const line = (kind: string, from: Point, to: Point, width: number): string =>
  `<line class="${kind}" x1="${mm(from.x)}" y1="${mm(from.y)}" x2="${mm(to.x)}" y2="${mm(to.y)}" stroke="#000" stroke-width="${width}"/>`;

const FONT = 'font-family="sans-serif" fill="#000"';
const TICK_MM = 3;

/** A bar with square ends, so that a ruler has something to lie at. */
const barOf = ({ from, to }: Overlay['bars'][number]): string => {
  const isAcross = from.y === to.y;
  const end = ({ x, y }: Point): string =>
    isAcross
      ? line('bar-end', { x, y: y - TICK_MM }, { x, y: y + TICK_MM }, 0.1)
      : line('bar-end', { x: x - TICK_MM, y }, { x: x + TICK_MM, y }, 0.1);
  return `${line('bar', from, to, 0.2)}${end(from)}${end(to)}`;
};

/** The overlay as one SVG file, true to size in millimetres. Source: SVG 1.1, user units are millimetres by the viewBox. */
export const overlaySvg = (overlay: Overlay, title: string): string => {
  const { widthMm, heightMm, hub, radiusMm, hubMm, cutMm, scale } = overlay;
  const cross = 4;
  const [bar] = overlay.bars;
  const words = [OVERLAY_PRINT, ...OVERLAY_CAUTIONS].flatMap((text) => wrapped(text));
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${mm(widthMm)}mm" height="${mm(heightMm)}mm" viewBox="0 0 ${mm(widthMm)} ${mm(heightMm)}">`,
    `<title>${escaped(title)}</title>`,
    `<g transform="scale(${scale.across} ${scale.up})">`,
    `<text ${at({ x: 20, y: 14 })} ${FONT} font-size="5">${escaped(title)}</text>`,
    `<circle class="cut" cx="${mm(hub.x)}" cy="${mm(hub.y)}" r="${mm(cutMm)}" fill="none" stroke="#000" stroke-width="0.15" stroke-dasharray="2 1"/>`,
    `<circle class="hub" cx="${mm(hub.x)}" cy="${mm(hub.y)}" r="${mm(hubMm)}" fill="none" stroke="#000" stroke-width="0.15"/>`,
    line('cross', { x: hub.x - cross, y: hub.y }, { x: hub.x + cross, y: hub.y }, 0.1),
    line('cross', { x: hub.x, y: hub.y - cross }, { x: hub.x, y: hub.y + cross }, 0.1),
    ...overlay.lines.map((each) => line('mark', each.from, each.to, 0.5)),
    ...overlay.lines.map(
      ({ labelAt, label }) =>
        `<text ${at(labelAt)} ${FONT} font-size="${mm(radiusMm / 9)}" text-anchor="middle" dominant-baseline="central">${escaped(label)}</text>`,
    ),
    ...overlay.bars.map(barOf),
    `<text ${at({ x: bar!.from.x + BAR_MM / 2, y: bar!.from.y + 6 })} ${FONT} font-size="4" text-anchor="middle">${BAR_MM} mm</text>`,
    `<text x="0" y="0" transform="translate(${mm(bar!.from.x - 3)} ${mm(bar!.from.y - BAR_MM / 2)}) rotate(-90)" ${FONT} font-size="4" text-anchor="middle">${BAR_MM} mm</text>`,
    ...words.map(
      (text, index) =>
        `<text ${at({ x: bar!.from.x + 12, y: bar!.from.y - 60 + 6 * index })} ${FONT} font-size="3.6">${escaped(text)}</text>`,
    ),
    '</g></svg>',
  ].join('\n');
};

const LINE_LETTERS = 88;

/** At spaces, into lines of a page's width. */
const wrapped = (text: string): string[] =>
  text.split(' ').reduce<string[]>((lines, word) => {
    const last = lines.at(-1);
    return last === undefined || last.length + word.length >= LINE_LETTERS
      ? [...lines, word]
      : [...lines.slice(0, -1), `${last} ${word}`];
  }, []);
