import { angleFractionAt, dialFromMarks } from '../core/dial';
import type { Gauge } from '../job/schema/gauge';
import { shownUnit } from '../words/shown';
import { figureWidth } from './text-width';

/** A stroke of the strip: long and broad at a mark, short between. */
export type StripTick = { readonly x: number; readonly size: 'mark' | 'half' | 'fine' };
export type StripFigure = { readonly x: number; readonly text: string; readonly anchor: Anchor };
export type Anchor = 'start' | 'middle' | 'end';

/** A mark of the dial that stands on the strip. */
export type StripMark = { readonly reading: number; readonly label: string; readonly x: number };

/**
 * The dial laid flat: the arc drawn out to a line, its marks where they stand on the arc, so that a scale that is wide
 * here and narrow there is so on the plot too. Pixels from the left of the drawing.
 */
export type DialStrip = {
  readonly left: number;
  readonly right: number;
  readonly xOf: (reading: number) => number;
  readonly marks: readonly StripMark[];
  readonly ticks: readonly StripTick[];
  readonly figures: readonly StripFigure[];
};

/** The dial of a job, or of a sender that is measured in a unit of its own. */
export type Scale = Pick<Gauge, 'marks' | 'unit' | 'divisionReading'>;

export type StripSpace = {
  readonly left: number;
  readonly right: number;
  readonly figurePixel: number;
  /** What must be in sight, in readings; the whole dial when left out. */
  readonly from?: number;
  readonly to?: number;
  /** More that must be in sight: readings beyond the outer marks. */
  readonly also?: readonly number[];
  /** Room beyond both ends, as a part of the arc in sight. */
  readonly room?: number;
};

/** A figure at the very end of the strip keeps this far inside it. */
const END_PIXEL = 7;
/** Figures nearer than this read as one number. */
const APART_PIXEL = 9;
/** Fine strokes nearer than this run together. */
const FINE_PIXEL = 6.5;
/** Nothing is drawn further off the dial than this part of its arc: a table that goes on for ever does not shrink it. */
const FURTHEST = 0.7;

/**
 * A scale on a strip of given pixels. Source: where the needle points, `angleFractionAt`; a scale that makes no dial is
 * laid out evenly by its readings.
 */
export function dialStrip(scale: Scale, space: StripSpace): DialStrip {
  const partOf = arcPart(scale);
  const [from, to] = endsOf(scale, space, partOf);
  const perPart = (space.right - space.left) / (to - from);
  const xOf = (reading: number): number => space.left + (partOf(reading) - from) * perPart;
  const isInside = (x: number): boolean => x > space.left - 0.5 && x < space.right + 0.5;
  const marks = scale.marks
    .map(({ reading, label }) => ({ reading, label, x: xOf(reading) }))
    .filter(({ x }) => isInside(x))
    .sort((one, other) => one.x - other.x);
  return {
    left: space.left,
    right: space.right,
    xOf,
    marks,
    ticks: ticksOf(scale, xOf).filter(({ x }) => isInside(x)),
    figures: figuresOf(marks, scale.unit, space),
  };
}

function arcPart({ marks }: Scale): (reading: number) => number {
  const dial = dialFromMarks(marks);
  if (dial.kind === 'dial') return (reading) => angleFractionAt(dial, reading);
  const readings = marks.map((mark) => mark.reading);
  const [lowest, highest] = [Math.min(...readings), Math.max(...readings)];
  const span = highest - lowest || 1;
  return (reading) => (reading - lowest) / span;
}

function endsOf(scale: Scale, space: StripSpace, partOf: (reading: number) => number): [number, number] {
  const wanted =
    space.from === undefined || space.to === undefined
      ? scale.marks.map((mark) => mark.reading)
      : [space.from, space.to];
  const parts = [...wanted, ...(space.also ?? [])]
    .map(partOf)
    .filter(Number.isFinite)
    .map((part) => Math.min(1 + FURTHEST, Math.max(-FURTHEST, part)));
  const [from, to] = [Math.min(...parts), Math.max(...parts)];
  if (!(to > from)) return [0, 1];
  const room = (space.room ?? 0) * (to - from);
  return [from - room, to + room];
}

/** Strokes between two marks: by the printed division where it is known, else in as many even parts as have room. */
function ticksOf(scale: Scale, xOf: (reading: number) => number): StripTick[] {
  const ordered = [...scale.marks].sort((one, other) => one.reading - other.reading);
  const between = ordered.slice(1).flatMap((mark, index) => {
    const before = ordered[index]?.reading ?? mark.reading;
    const gap = mark.reading - before;
    const narrowest = Math.abs(xOf(mark.reading) - xOf(before));
    const parts = partsOf(gap, scale.divisionReading, narrowest);
    return Array.from({ length: parts - 1 }, (_, step): StripTick => ({
      x: xOf(before + (gap * (step + 1)) / parts),
      size: 2 * (step + 1) === parts ? 'half' : 'fine',
    }));
  });
  return [...between, ...ordered.map(({ reading }): StripTick => ({ x: xOf(reading), size: 'mark' }))];
}

const EVEN_PARTS = [10, 5, 4, 2];
function partsOf(gap: number, division: number | undefined, pixel: number): number {
  const printed = division === undefined ? NaN : gap / division;
  const isWhole = Math.abs(printed - Math.round(printed)) < 1e-6;
  const wanted = isWhole && printed >= 1 ? [Math.round(printed), ...EVEN_PARTS] : EVEN_PARTS;
  return wanted.find((parts) => pixel / parts >= FINE_PIXEL) ?? 1;
}

/** The figures of the marks; the ends first, then from the left whatever has room; the last number bears the unit. */
function figuresOf(marks: readonly StripMark[], unit: string, space: StripSpace): StripFigure[] {
  const last = marks.at(-1);
  if (last === undefined) return [];
  const withUnit =
    isNumber(last.label) && shownUnit(unit) !== '' ? `${last.label} ${shownUnit(unit)}` : last.label;
  const placed: (StripFigure & { readonly span: readonly [number, number] })[] = [];
  const put = (mark: StripMark, text: string): boolean => {
    const figure = figureAt(mark.x, text, space);
    const [from, to] = figure.span;
    const isClear = placed.every(
      ({ span: [start, end] }) => to + APART_PIXEL <= start || from >= end + APART_PIXEL,
    );
    if (isClear) placed.push(figure);
    return isClear;
  };
  const first = marks[0];
  if (!put(last, withUnit)) put(last, last.label);
  if (first !== undefined && first !== last && !put(first, first.label) && withUnit !== last.label) {
    placed.length = 0;
    put(last, last.label);
    put(first, first.label);
  }
  for (const mark of marks.slice(1, -1)) put(mark, mark.label);
  return placed.map(({ x, text, anchor }) => ({ x, text, anchor })).sort((one, other) => one.x - other.x);
}

function figureAt(
  x: number,
  text: string,
  { left, right, figurePixel }: StripSpace,
): StripFigure & { readonly span: readonly [number, number] } {
  const width = figureWidth(text, figurePixel);
  const [from, to] = [x - width / 2, x + width / 2];
  if (from < left + END_PIXEL)
    return { x: left + END_PIXEL, text, anchor: 'start', span: [left + END_PIXEL, left + END_PIXEL + width] };
  if (to > right - END_PIXEL)
    return {
      x: right - END_PIXEL,
      text,
      anchor: 'end',
      span: [right - END_PIXEL - width, right - END_PIXEL],
    };
  return { x, text, anchor: 'middle', span: [from, to] };
}

const isNumber = (label: string): boolean => label.trim() !== '' && Number.isFinite(Number(label));

/** A scale for values that have no dial: round figures, evenly spread. */
export const evenScale = (values: readonly number[], unit: string): Scale => ({
  unit,
  marks: values.map((reading, index) => ({
    label: String(reading),
    reading,
    angleFraction: index / Math.max(1, values.length - 1),
  })),
});
