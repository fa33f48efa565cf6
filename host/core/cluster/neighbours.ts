import type { Mechanism } from '../curve';

/** How a mechanism turns volts into deflection: with their square (heat), in proportion (a coil), not at all (a ratio). */
export type FeedLaw = 'square' | 'proportional' | 'ratio';

const FEED_LAW: Readonly<Record<Mechanism, FeedLaw>> = {
  thermal: 'square',
  'moving-coil': 'proportional',
  'two-coil': 'ratio',
  'cross-coil': 'ratio',
  electronic: 'ratio',
  // Whatever it is, nothing of the trade goes with more than the square.
  unknown: 'square',
};

export const feedLawOf = (mechanism: Mechanism): FeedLaw => FEED_LAW[mechanism];

/** A value and its standard uncertainty. */
export type Measured = { readonly value: number; readonly u: number };

/** What one watched box saw while a neighbour went from one end to the other and back, ampere and volt. */
export type Watched = {
  readonly movedId: string;
  readonly watchedId: string;
  /** Its own current before, during and after; root mean square where the feed pulses. */
  readonly before: Measured;
  readonly during: Measured;
  readonly after: Measured;
  /** How much more the neighbour drew during than before and after. */
  readonly drawnAmp: Measured;
  /** Its terminal with its output open; root mean square where the feed pulses. */
  readonly openVolt: number;
  /** What battery negative lay below its ground clip, more during than before and after; left out where nobody sees it. */
  readonly groundVolt?: Measured;
};

/** How a watched gauge deflects: its law, and its drive at rest as a part of its whole arc's. */
export type Deflection = { readonly law: FeedLaw; readonly driveOverSpan: number };

export type NeighbourCell = {
  readonly movedId: string;
  readonly watchedId: string;
  readonly percentOfArc: number;
  /** Standard uncertainty of it. */
  readonly uPercent: number;
  /** What the two gauges have in common, ohm. */
  readonly commonOhm: Measured;
  /** Of it, in the ground. */
  readonly groundOhm?: Measured;
};

const EXPONENT: Readonly<Record<FeedLaw, number>> = { square: 2, proportional: 1, ratio: 0 };

/**
 * What a neighbour does to a gauge. At a fixed resistance its own current goes with its feed, so dI/I is dV/V; the
 * return takes the drift out. The ohms in common are dV by the current that made it. First order in the effect, which is
 * a few percent at most. Source: Ohm, Kirchhoff; held to ngspice in tests/core/cluster/neighbours.test.ts.
 */
export const neighbourCell = (seen: Watched, { law, driveOverSpan }: Deflection): NeighbourCell => {
  const { before, during, after, drawnAmp, openVolt, groundVolt } = seen;
  const atRest = (before.value + after.value) / 2;
  const part = (during.value - atRest) / atRest;
  const uPart = Math.hypot(during.u, before.u / 2, after.u / 2) / Math.abs(atRest);
  const toArc = 100 * EXPONENT[law] * driveOverSpan;
  // The watched gauge itself draws a little less for it.
  const moreAmp = drawnAmp.value + during.value - atRest;
  const ohmOf = (volt: number, u: number): Measured => ({
    value: volt / moreAmp,
    u: Math.hypot(u / moreAmp, (volt * drawnAmp.u) / moreAmp ** 2),
  });
  return {
    movedId: seen.movedId,
    watchedId: seen.watchedId,
    percentOfArc: toArc * part,
    uPercent: toArc * uPart,
    commonOhm: ohmOf(-part * openVolt, uPart * openVolt),
    ...(groundVolt === undefined ? {} : { groundOhm: ohmOf(groundVolt.value, groundVolt.u) }),
  };
};

/** Ohms that two gauges have in common, at most, by a test; undefined where these two were in none. */
export const atMostInCommonOhm = (
  cells: readonly NeighbourCell[],
  { movedId, watchedId }: Pick<NeighbourCell, 'movedId' | 'watchedId'>,
): number | undefined => {
  const cell = cells.find((each) => each.movedId === movedId && each.watchedId === watchedId);
  return cell === undefined ? undefined : Math.abs(cell.commonOhm.value) + COVERAGE * cell.commonOhm.u;
};

/** Percent of the arc: below the first nothing is seen, above the second nobody may sweep freely. */
const NONE_BELOW_PERCENT = 0.2;
const TOO_LARGE_ABOVE_PERCENT = 0.5;
const COVERAGE = 2;

export type NeighbourVerdict = 'none-seen' | 'small' | 'too-large' | 'cannot-tell';

/** One verdict on all cells, by the worst; what its uncertainty leaves open is not told. */
export const neighbourVerdict = (cells: readonly NeighbourCell[]): NeighbourVerdict => {
  const surely = (limit: number): boolean =>
    cells.some(({ percentOfArc, uPercent }) => Math.abs(percentOfArc) - COVERAGE * uPercent > limit);
  const maybe = (limit: number): boolean =>
    cells.some(({ percentOfArc, uPercent }) => Math.abs(percentOfArc) + COVERAGE * uPercent > limit);
  const seen = (limit: number): boolean => cells.some(({ percentOfArc }) => Math.abs(percentOfArc) > limit);
  if (surely(TOO_LARGE_ABOVE_PERCENT) || seen(TOO_LARGE_ABOVE_PERCENT)) return 'too-large';
  if (maybe(TOO_LARGE_ABOVE_PERCENT)) return 'cannot-tell';
  return maybe(NONE_BELOW_PERCENT) ? 'small' : 'none-seen';
};

export type Suspect = {
  readonly where: 'feed' | 'ground' | 'both' | 'cannot-tell';
  /** What the cells agree on. */
  readonly commonOhm: Measured;
};

/** Below this part of the whole the other of the two is the cause. */
const LITTLE_PART = 0.3;

/** The weighted mean of what the cells say. Source: inverse variances. */
const agreed = (values: readonly Measured[]): Measured | undefined => {
  const weights = values.map(({ u }) => 1 / Math.max(u, Number.MIN_VALUE) ** 2);
  const sum = weights.reduce((total, weight) => total + weight, 0);
  if (values.length === 0 || !(sum > 0) || !Number.isFinite(sum)) return undefined;
  const value = values.reduce((total, each, at) => total + (each.value * weights[at]!) / sum, 0);
  return { value, u: 1 / Math.sqrt(sum) };
};

/** Which ohms the gauges have in common, where they are seen at all: in the feed, in the ground, or nobody can tell. */
export const suspectOf = (cells: readonly NeighbourCell[]): Suspect | undefined => {
  const commonOhm = agreed(cells.map((cell) => cell.commonOhm));
  if (commonOhm === undefined || commonOhm.value < COVERAGE * commonOhm.u) return undefined;
  const groundOhm = agreed(cells.flatMap((cell) => cell.groundOhm ?? []));
  if (groundOhm === undefined) return { where: 'cannot-tell', commonOhm };
  const inGround = groundOhm.value / commonOhm.value;
  const where = inGround > 1 - LITTLE_PART ? 'ground' : inGround < LITTLE_PART ? 'feed' : 'both';
  return { where, commonOhm };
};
