import { dialStrip, type DialStrip, type Scale } from './dial-strip';
import { emptyCorner, placeLabels, type Box, type Line, type Spot } from './label-place';
import { namedAt, type NamedLine } from './named-line';
import { smoothLine } from './line-path';
import { mostTicks, plotSpace, type PlotSpace, type PlotWish } from './plot-space';
import { wordsWidth } from './text-width';
import { ohmAxis, ohmRatioAxis, type ValueAxis } from './value-axis';

/** A place of the dial (or of the sender's own scale) and the ohms there. */
export type OhmPoint = { readonly value: number; readonly ohm: number };
export type OhmDot = OhmPoint & {
  readonly id: string;
  readonly kind: 'up' | 'down' | 'struck';
  /** Uncertainties to either side (95 %) that are drawn as bars. */
  readonly halfOhm?: number | undefined;
  readonly halfValue?: number | undefined;
};

/** A line of ohms over the dial. `says`: what it comes to, in the list of the lines. */
export type OhmLine = {
  readonly id: string;
  readonly name: string;
  readonly says?: string | undefined;
  /** What the gauge wants, what a sender gives, or what it gave before. */
  readonly look: 'curve' | 'sender' | 'edge';
  readonly points: readonly OhmPoint[];
  /** What is not measured here may leave the plot; what is measured never does. */
  readonly isAside?: boolean;
};

export type OhmsQuestion = {
  readonly scale: Scale;
  /** By ratio for thermistors, evenly from zero for tanks and pressures: the same for the whole job. */
  readonly isRatio: boolean;
  readonly lines: readonly OhmLine[];
  /** The 95 % band of the curve: at each ohm the ends of what the needle may show. */
  readonly band?: readonly { readonly ohm: number; readonly low: number; readonly high: number }[];
  /** The 95 % band of a sender's line: at each value the ends of what it may give. */
  readonly ohmBand?: readonly { readonly value: number; readonly lowOhm: number; readonly highOhm: number }[];
  readonly dots: readonly OhmDot[];
  /** Ohms that shall be in sight before there is a reading near them. */
  readonly alsoOhms?: readonly number[];
  /** From these places of the curve a thin line drops to the strip. */
  readonly drops?: readonly OhmPoint[];
  /** What the box makes now. */
  readonly nowOhm?: number | undefined;
  /** The names in a list that lies in the empty corner, or beside their lines. */
  readonly naming: 'list' | 'lines' | 'none';
};

export type DrawnLine = OhmLine & { readonly line: Line; readonly dash: number };
export type DrawnDot = OhmDot & Spot & { readonly bars: readonly Line[] };

/** Everything that is drawn, in pixels. */
export type OhmsScene = {
  readonly space: PlotSpace;
  readonly strip: DialStrip;
  readonly axis: ValueAxis;
  readonly yOf: (ohm: number) => number;
  readonly lines: readonly DrawnLine[];
  readonly band: { readonly high: Line; readonly low: Line } | undefined;
  readonly dots: readonly DrawnDot[];
  readonly drops: readonly Spot[];
  /** Names beside their lines, upper left corner of each. */
  readonly labels: readonly { readonly row: NamedLine; readonly box: Box }[];
  /** The list in the empty corner; what has no place in the plot stands below it. */
  readonly corner: Corner | undefined;
  readonly below: readonly NamedLine[];
};

export type Corner = {
  readonly box: Box;
  readonly rows: readonly NamedLine[];
  readonly saysAt: number;
  readonly rowPixel: number;
};

/** Beyond the measured ohms an aside may reach this much further before it leaves the plot. */
const ASIDE_FACTOR = 1.8;
/** The strip runs on a little beyond the outer marks: a needle does too. */
const STRIP_ROOM = 0.035;

const isMeasured = (line: OhmLine): boolean => line.isAside !== true;

function ohmsInSight(question: OhmsQuestion): number[] {
  const measured = [
    ...question.dots.flatMap(({ ohm, halfOhm = 0 }) => [ohm, ohm + halfOhm]),
    ...question.lines.filter(isMeasured).flatMap(({ points }) => points.map(({ ohm }) => ohm)),
    ...(question.alsoOhms ?? []),
  ];
  const above = measured.filter((ohm) => ohm > 0);
  if (above.length === 0) return measured;
  const [lowest, highest] = [Math.min(...above) / ASIDE_FACTOR, Math.max(...above) * ASIDE_FACTOR];
  const aside = question.lines
    .filter((line) => !isMeasured(line))
    .flatMap(({ points }) => points.map(({ ohm }) => Math.min(highest, Math.max(lowest, ohm))));
  return [...measured, ...aside];
}

/** Lays out a plot of ohms over the dial for one width. Source: geometry alone. */
export function ohmsScene(question: OhmsQuestion, wish: PlotWish): OhmsScene {
  const axisOf = question.isRatio ? ohmRatioAxis : ohmAxis;
  const axis = axisOf(ohmsInSight(question), mostTicks(wish));
  const space = plotSpace(
    wish,
    axis.ticks.map(({ text }) => text),
  );
  const { plot } = space;
  const strip = dialStrip(question.scale, {
    left: plot.left,
    right: plot.right,
    figurePixel: space.figurePixel,
    also: valuesInSight(question),
    room: STRIP_ROOM,
  });
  const yOf = (ohm: number): number => plot.bottom - axis.place(ohm) * (plot.bottom - plot.top);
  const spot = ({ value, ohm }: OhmPoint): Spot => ({ x: strip.xOf(value), y: yOf(ohm) });
  const lines = drawnLines(question.lines, spot);
  const dots = question.dots.map((dot) => ({ ...dot, ...spot(dot), bars: barsOf(dot, spot) }));
  const named = namesIn(question.naming, space, lines, dots);
  return {
    space,
    strip,
    axis,
    yOf,
    lines,
    band: bandOf(question, spot),
    dots,
    drops: (question.drops ?? []).map(spot),
    ...named,
  };
}

/** Measured values beyond the dial are in sight too; what lies aside is not waited for. */
const valuesInSight = ({ dots, lines }: OhmsQuestion): number[] => [
  ...dots.flatMap(({ value, halfValue = 0 }) => [value - halfValue, value + halfValue]),
  ...lines.filter(isMeasured).flatMap(({ points }) => points.map(({ value }) => value)),
];

function drawnLines(lines: readonly OhmLine[], spot: (point: OhmPoint) => Spot): DrawnLine[] {
  const senders = lines.filter(({ look }) => look === 'sender').map(({ id }) => id);
  return lines.map((line) => ({
    ...line,
    line: smoothLine(line.points.map(spot)),
    dash: Math.max(0, senders.indexOf(line.id)),
  }));
}

/** Bars over what the person or the meter may have been off. */
function barsOf(
  { value, ohm, halfOhm = 0, halfValue = 0 }: OhmDot,
  spot: (point: OhmPoint) => Spot,
): readonly Line[] {
  const upright = [spot({ value, ohm: ohm + halfOhm }), spot({ value, ohm: Math.max(0, ohm - halfOhm) })];
  const level = [spot({ value: value - halfValue, ohm }), spot({ value: value + halfValue, ohm })];
  return [...(halfOhm > 0 ? [upright] : []), ...(halfValue > 0 ? [level] : [])];
}

function bandOf(
  { band, ohmBand }: OhmsQuestion,
  spot: (point: OhmPoint) => Spot,
): { readonly high: Line; readonly low: Line } | undefined {
  if (ohmBand !== undefined)
    return {
      high: ohmBand.map(({ value, highOhm }) => spot({ value, ohm: highOhm })),
      low: ohmBand.map(({ value, lowOhm }) => spot({ value, ohm: lowOhm })),
    };
  return (
    band && {
      high: band.map(({ ohm, high }) => spot({ ohm, value: high })),
      low: band.map(({ ohm, low }) => spot({ ohm, value: low })),
    }
  );
}

type Names = Pick<OhmsScene, 'labels' | 'corner' | 'below'>;

const isNamed = ({ look }: OhmLine): boolean => look !== 'edge';

function namesIn(
  naming: OhmsQuestion['naming'],
  space: PlotSpace,
  lines: readonly DrawnLine[],
  dots: readonly DrawnDot[],
): Names {
  const rows: NamedLine[] = lines
    .filter(isNamed)
    .map(({ id, name, says, look, dash }) => ({ id, name, says, look, dash }));
  const drawn = {
    lines: [...lines.map(({ line }) => line), ...dots.flatMap(({ bars }) => bars)],
    dots,
  };
  if (naming === 'none' || rows.length === 0) return { labels: [], corner: undefined, below: [] };
  if (naming === 'list') {
    const corner = space.isNarrow ? undefined : cornerFor(rows, space, drawn);
    return { labels: [], corner, below: corner === undefined ? rows : [] };
  }
  const placed = placeLabels(
    lines.filter(isNamed).map(({ id, name, line, look }) => ({
      id,
      line,
      at: look === 'curve' ? 0.25 : 0.8,
      width: wordsWidth(name, space.textPixel),
      height: space.textPixel * 1.2,
    })),
    space.plot,
    drawn,
  );
  const labels = namedAt(rows, placed);
  return { labels, corner: undefined, below: rows.filter((row) => labels.every((each) => each.row !== row)) };
}

/** Length of the sample of a line in the list, with its gap. */
export const SAMPLE_PIXEL = 52;
const ROW_FACTOR = 1.7;
const BETWEEN_PIXEL = 20;
const INSIDE_PIXEL = 10;

function cornerFor(
  rows: readonly NamedLine[],
  space: PlotSpace,
  drawn: { readonly lines: readonly Line[]; readonly dots: readonly Spot[] },
): Corner | undefined {
  const wide = (texts: readonly (string | undefined)[]): number =>
    Math.max(0, ...texts.map((text) => wordsWidth(text ?? '', space.textPixel)));
  const saysAt = SAMPLE_PIXEL + wide(rows.map(({ name }) => name)) + BETWEEN_PIXEL;
  const rowPixel = space.textPixel * ROW_FACTOR;
  const size = {
    width: saysAt + wide(rows.map(({ says }) => says)) + 2 * INSIDE_PIXEL,
    height: rows.length * rowPixel + INSIDE_PIXEL,
  };
  const box = emptyCorner(size, space.plot, drawn);
  return box && { box, rows, saysAt, rowPixel };
}
