import { monotoneReach } from '../numeric/monotone-reach';

/** A reading of a sweep, as far as planning needs it. */
export type PlanReading = {
  readonly resistanceOhm: number;
  readonly reading: number;
  readonly atStop?: 'low' | 'high' | undefined;
};

export type RefineOptions = {
  /** Standard uncertainty of one reading, in dial units: finer detail than this cannot be seen. */
  readonly readingUncertainty: number;
  /** Standard uncertainty of the fitted curve at a resistance, in dial units, if a fit exists. */
  readonly uncertaintyAt?: (resistanceOhm: number) => number;
  /** A program moves the needle and may hold it still anywhere: a gap is as wrong as a monotone curve could be in it. */
  readonly mayRest?: boolean;
};

export type Refinement =
  | {
      readonly kind: 'point';
      readonly resistanceOhm: number;
      /** `edge`: the needle moves on one side and rests on the other (a plateau or a stop begins here). */
      readonly why: 'curvature' | 'uncertainty' | 'edge';
      /** How wrong the curve may be here now, in dial units. */
      readonly expectedError: number;
    }
  | { readonly kind: 'enough'; readonly expectedError: number };

type Knot = { readonly x: number; readonly y: number; readonly stop: 'low' | 'high' | undefined };

/** Settings closer than this are one point of the curve. */
const SAME_POINT_RATIO = 1.005;
/** Points closer than this add nothing: the box's own uncertainty is of that size. */
const CLOSEST_RATIO = 1.04;
/** A gap over which the needle moves less than this many standard uncertainties is at rest. */
const REST_SIGMAS = 2;

/** One knot for each resistance, in ln R: the mean of all readings there, both legs counted. */
const knotsOf = (readings: readonly PlanReading[]): Knot[] => {
  const sorted = [...readings]
    .filter((reading) => reading.resistanceOhm > 0)
    .sort((a, b) => a.resistanceOhm - b.resistanceOhm);
  const groups: PlanReading[][] = [];
  for (const reading of sorted) {
    const group = groups.at(-1);
    const first = group?.[0];
    if (group && first && reading.resistanceOhm <= first.resistanceOhm * SAME_POINT_RATIO)
      group.push(reading);
    else groups.push([reading]);
  }
  return groups.map((group) => ({
    x: Math.log(group[0]?.resistanceOhm ?? 1),
    y: group.reduce((sum, reading) => sum + reading.reading, 0) / group.length,
    stop: group.every((reading) => reading.atStop !== undefined) ? group[0]?.atStop : undefined,
  }));
};

/** Second derivative at a knot by the three-point divided difference; 0 at the ends, where it cannot be known. */
const bend = (knots: readonly Knot[], index: number): number => {
  const [before, here, after] = [knots[index - 1], knots[index], knots[index + 1]];
  if (before === undefined || here === undefined || after === undefined) return 0;
  const left = (here.y - before.y) / (here.x - before.x);
  const right = (after.y - here.y) / (after.x - here.x);
  return (2 * (right - left)) / (after.x - before.x);
};

type Gap = {
  readonly midX: number;
  readonly error: number;
  readonly why: 'curvature' | 'uncertainty' | 'edge';
};

/** Places tried inside a gap. */
const INNER_PLACES = [0.2, 0.35, 0.5, 0.65, 0.8];

/** Where in a gap a monotone curve is bounded worst, and by how much. Source: `monotoneReach`. */
const widestIn = (knots: readonly Knot[], index: number): Gap | undefined => {
  const moving = knots.filter(({ stop }) => stop === undefined);
  const [left, right] = [knots[index], knots[index + 1]];
  if (left === undefined || right === undefined) return undefined;
  const gaps = INNER_PLACES.flatMap((part): Gap[] => {
    const midX = left.x + part * (right.x - left.x);
    const reach = monotoneReach(moving, midX);
    return reach === undefined ? [] : [{ midX, error: (reach.high - reach.low) / 2, why: 'uncertainty' }];
  });
  // Of equally wide places the middle one: it halves what is left.
  const distance = ({ midX }: Gap): number => Math.abs(midX - (left.x + right.x) / 2);
  return gaps.sort((a, b) => b.error - a.error || distance(a) - distance(b))[0];
};

/**
 * How wrong a curve through the knots may be in one gap.
 * Source: error bound of linear interpolation, h^2 |f''| / 8; between a stop and a moving needle nothing is known of
 * where the stop ends, so half the gap's rise counts.
 */
const gapBetween = (knots: readonly Knot[], index: number, options: RefineOptions): Gap | undefined => {
  const [left, right] = [knots[index], knots[index + 1]];
  if (left === undefined || right === undefined) return undefined;
  if (right.x - left.x < Math.log(CLOSEST_RATIO) * 2) return undefined;
  if (left.stop !== undefined && right.stop === left.stop) return undefined;
  const bothMove = left.stop === undefined && right.stop === undefined;
  if (options.mayRest === true && bothMove) return widestIn(knots, index);
  const midX = (left.x + right.x) / 2;
  const rise = Math.abs(right.y - left.y);
  const rest = REST_SIGMAS * options.readingUncertainty;
  const isOff = left.stop !== undefined || right.stop !== undefined;
  const bends = Math.max(Math.abs(bend(knots, index)), Math.abs(bend(knots, index + 1)));
  const curvature = isOff ? rise / 2 : ((right.x - left.x) ** 2 * bends) / 8;
  const known = options.uncertaintyAt?.(Math.exp(midX)) ?? 0;
  if (known > curvature) return { midX, error: known, why: 'uncertainty' };
  const beside = [index - 1, index + 1].map((at) => {
    const [from, to] = [knots[at], knots[at + 1]];
    return from === undefined || to === undefined ? Infinity : Math.abs(to.y - from.y);
  });
  const isEdge = isOff || (rise > rest && beside.some((each) => each <= rest));
  return { midX, error: curvature, why: isEdge ? 'edge' : 'curvature' };
};

/**
 * Where the next reading tells most, as a resistance in ohm: the gap (in ln R) where the curve may be most wrong, by
 * curvature, by the fit's own uncertainty, or because a plateau or stop begins inside it. `enough` when nothing is left
 * that one reading of this dial could show. Pure: the same readings give the same answer.
 * Source: derived here, see tests/core/plan/refine.test.ts.
 */
export const nextRefinement = (readings: readonly PlanReading[], options: RefineOptions): Refinement => {
  const knots = knotsOf(readings);
  const gaps = knots.flatMap((_, index) => gapBetween(knots, index, options) ?? []);
  const worst = gaps.reduce<Gap | undefined>(
    (most, gap) => (most === undefined || gap.error > most.error ? gap : most),
    undefined,
  );
  if (worst === undefined) return { kind: 'enough', expectedError: 0 };
  if (!(worst.error > options.readingUncertainty / 2)) return { kind: 'enough', expectedError: worst.error };
  const resistanceOhm = Number(Math.exp(worst.midX).toPrecision(4));
  return { kind: 'point', resistanceOhm, why: worst.why, expectedError: worst.error };
};
