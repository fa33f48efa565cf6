import { refuse, type Refusal } from '../refusal';

export const papers = ['A4', 'Letter'] as const;
export type Paper = (typeof papers)[number];

/** Where each mark stands: 0 at the low end of the arc, 1 at its high end. */
export type OverlayMark = { readonly label: string; readonly arcFraction: number };

export type OverlayQuestion = {
  /** Of the ends of the marks, and of the hole at the hub; mm. */
  readonly radiusMm: number;
  readonly hubMm: number;
  /** Of the low end, clockwise from straight up, and from there to the high end (clockwise above 0); degrees. */
  readonly startDegrees: number;
  readonly sweepDegrees: number;
  readonly marks: readonly OverlayMark[];
  readonly paper: Paper;
  /** What a ruler says of the two bars of an earlier print, mm. */
  readonly bars?: { readonly acrossMm: number; readonly upMm: number } | undefined;
};

/** A mark on paper, mm from the upper left corner before scaling. */
export type OverlayLine = {
  readonly label: string;
  readonly degrees: number;
  readonly from: Point;
  readonly to: Point;
  readonly labelAt: Point;
};
export type Point = { readonly x: number; readonly y: number };

export type Overlay = {
  readonly kind: 'overlay';
  readonly widthMm: number;
  readonly heightMm: number;
  readonly hub: Point;
  readonly radiusMm: number;
  readonly hubMm: number;
  readonly cutMm: number;
  readonly lines: readonly OverlayLine[];
  readonly bars: readonly { readonly from: Point; readonly to: Point }[];
  /** By which everything is drawn larger so that it comes out true. */
  readonly scale: { readonly across: number; readonly up: number };
};

export type OverlayRefusal = Refusal<'OVERLAY_SCALED' | 'OVERLAY_SIZE'>;

/** Source: ISO 216 (A4), ANSI/ASME Y14.1 (Letter, 8.5 x 11 in). */
const PAPER: Readonly<Record<Paper, { readonly widthMm: number; readonly heightMm: number }>> = {
  A4: { widthMm: 210, heightMm: 297 },
  Letter: { widthMm: 215.9, heightMm: 279.4 },
};
export const BAR_MM = 100;
/** Up to this a print is true; up to the other it can be made true. */
const TRUE_PART = 0.005;
const MOST_PART = 0.02;
/** Length of a mark, where its label stands, and the room that scissors want beyond it; parts of the radius, mm. */
const MARK_PART = 0.14;
const LABEL_PART = 0.74;
const CUT_MM = 3;
const EDGE_MM = 12;
const TOP_MM = 30;
const PERCENT = 100;

const bad = (wrong: 'radius' | 'hub' | 'sweep' | 'marks' | 'paper' | 'bar', given: number) =>
  refuse('OVERLAY_SIZE', { wrong, given });

const faultOf = (question: OverlayQuestion): OverlayRefusal | undefined => {
  const { radiusMm, hubMm, sweepDegrees, startDegrees, marks, paper } = question;
  if (!(radiusMm >= 5)) return bad('radius', radiusMm);
  if (!(hubMm >= 0 && hubMm < radiusMm / 2)) return bad('hub', hubMm);
  const sweep = Math.abs(sweepDegrees);
  if (!(sweep >= 5 && sweep <= 350 && Number.isFinite(startDegrees))) return bad('sweep', sweepDegrees);
  if (marks.length < 2 || marks.some(({ arcFraction }) => !(arcFraction >= -0.25 && arcFraction <= 1.25)))
    return bad('marks', marks.length);
  return radiusMm + CUT_MM + EDGE_MM > PAPER[paper].widthMm / 2 ? bad('paper', radiusMm) : undefined;
};

/** How a printer is made true by its two bars. Refuses one that is more than 2 % off, in either direction. */
const scaleOf = ({ bars }: OverlayQuestion): Overlay['scale'] | OverlayRefusal => {
  if (bars === undefined) return { across: 1, up: 1 };
  const { acrossMm, upMm } = bars;
  const wrong = [acrossMm, upMm].find((each) => !(each > 0 && Number.isFinite(each)));
  if (wrong !== undefined) return bad('bar', wrong);
  const [across, up] = [acrossMm / BAR_MM - 1, upMm / BAR_MM - 1];
  const most = Math.max(Math.abs(across), Math.abs(up));
  if (most > MOST_PART + 1e-9)
    return refuse('OVERLAY_SCALED', {
      acrossPercent: PERCENT * across,
      upPercent: PERCENT * up,
      mostPercent: PERCENT * MOST_PART,
    });
  return most > TRUE_PART + 1e-9 ? { across: BAR_MM / acrossMm, up: BAR_MM / upMm } : { across: 1, up: 1 };
};

const RADIANS = Math.PI / 180;

/**
 * A dial to lay over the old one, in millimetres of paper, with a bar of 100 mm each way to hold a ruler to.
 * Source: geometry. Refuses: what no dial is (OVERLAY_SIZE), a printer that is over 2 % off (OVERLAY_SCALED).
 */
export const overlayOf = (question: OverlayQuestion): Overlay | OverlayRefusal => {
  const fault = faultOf(question);
  if (fault !== undefined) return fault;
  const scale = scaleOf(question);
  if ('kind' in scale) return scale;
  const { radiusMm, startDegrees, sweepDegrees } = question;
  const paper = PAPER[question.paper];
  const hub = { x: paper.widthMm / 2, y: TOP_MM + radiusMm + CUT_MM };
  const at = (degrees: number, radius: number): Point => ({
    x: hub.x + radius * Math.sin(degrees * RADIANS),
    y: hub.y - radius * Math.cos(degrees * RADIANS),
  });
  const lines = question.marks.map(({ label, arcFraction }) => {
    const degrees = startDegrees + arcFraction * sweepDegrees;
    return {
      ...{ label, degrees },
      from: at(degrees, (1 - MARK_PART) * radiusMm),
      to: at(degrees, radiusMm),
      labelAt: at(degrees, LABEL_PART * radiusMm),
    };
  });
  const corner = { x: EDGE_MM + 8, y: paper.heightMm - EDGE_MM - 8 };
  return {
    ...{
      kind: 'overlay',
      ...paper,
      hub,
      radiusMm,
      hubMm: question.hubMm,
      cutMm: radiusMm + CUT_MM,
      lines,
      scale,
    },
    bars: [
      { from: corner, to: { x: corner.x + BAR_MM, y: corner.y } },
      { from: corner, to: { x: corner.x, y: corner.y - BAR_MM } },
    ],
  };
};
