import { medianOf } from '../../numeric/median';
import type { Row } from './row';

/** One setting of the box that was read with the needle going up and with it going down. */
export type LegPair = {
  readonly setting: number;
  readonly ohm: number;
  /** Mean reading down less mean reading up. */
  readonly difference: number;
  readonly middle: number;
  /** How many readings lie between the two, by their place in the list: down less up. */
  readonly readingsApart: number;
};

/** Differences further from the usual one than so many of its standard deviations are no play of the needle. */
const ODD_SIGMAS = 5;
/** ...and than this part of the span, which nobody would mend. */
const ODD_PART = 0.02;
/** Fewer pairs have no usual difference. */
const FEWEST_PAIRS = 3;
/** A normal distribution's standard deviation from the median and the mean of its absolute deviations. */
const MEDIAN_TO_SIGMA = 1.4826;
const MEAN_TO_SIGMA = 1.2533;

/** The settings that both legs visited, in order of resistance. Source: definition. */
export function legPairs(rows: readonly Row[]): LegPair[] {
  const settings = new Map<number, Row[]>();
  for (const row of rows) settings.set(row.setting, [...(settings.get(row.setting) ?? []), row]);
  return [...settings].flatMap(([setting, group]) => {
    const up = group.filter((row) => row.legSign === -1);
    const down = group.filter((row) => row.legSign === 1);
    if (up.length === 0 || down.length === 0) return [];
    const [low, high] = [up, down].map((leg) => meanOf(leg.map((row) => row.reading)));
    return [
      {
        setting,
        ohm: meanOf(group.map((row) => row.ohm)),
        difference: high! - low!,
        middle: (high! + low!) / 2,
        readingsApart: meanOf(down.map((row) => row.index)) - meanOf(up.map((row) => row.index)),
      },
    ];
  });
}

/**
 * Half the usual difference between the legs: the mean of those that lie with the others, so that one misread setting
 * does not move it; 0 without pairs. Source: mean about the median, cut at `ODD_SIGMAS`.
 */
export function pairedHalf(rows: readonly Row[]): number {
  const differences = legPairs(rows).map((pair) => pair.difference);
  const usual = medianOf(differences);
  if (usual === undefined) return 0;
  const sigma = spreadOf(differences.map((each) => Math.abs(each - usual)));
  return meanOf(differences.filter((each) => Math.abs(each - usual) <= ODD_SIGMAS * sigma)) / 2;
}

/**
 * The same where the legs visited other settings, too: each reading up against the straight line between its neighbours
 * on the way down, over ln R. Source: definition.
 */
export function commonHalf(rows: readonly Row[]): number {
  if (legPairs(rows).length > 0) return pairedHalf(rows);
  const down = rows.filter((row) => row.legSign === 1);
  const differences = rows.flatMap((row) => {
    const after = down.findIndex((other) => other.ohm > row.ohm);
    const [low, high] = [down[after - 1], down[after]];
    if (row.legSign !== -1 || low === undefined || high === undefined) return [];
    const part = Math.log((row.ohm + 1) / (low.ohm + 1)) / Math.log((high.ohm + 1) / (low.ohm + 1));
    return [low.reading + part * (high.reading - low.reading) - row.reading];
  });
  return (medianOf(differences) ?? 0) / 2;
}

/**
 * Pairs whose difference is not that of the others: one of the two was misread, or had not settled. `scatter` is what
 * one reading is expected to scatter by. Source: median and median deviation; derived here.
 */
export function oddPairs(
  rows: readonly Row[],
  { scatter, span }: { readonly scatter: number; readonly span: number },
): LegPair[] {
  const pairs = legPairs(rows);
  const usual = medianOf(pairs.map((pair) => pair.difference));
  if (usual === undefined || pairs.length < FEWEST_PAIRS) return [];
  const off = (pair: LegPair): number => Math.abs(pair.difference - usual);
  const sigma = Math.max(spreadOf(pairs.map(off)), Math.SQRT2 * scatter);
  return pairs.filter((pair) => off(pair) > Math.max(ODD_SIGMAS * sigma, ODD_PART * span));
}

/**
 * Standard deviation behind absolute deviations, one of which may be a slip. Differences of whole steps often have a
 * median deviation of nothing: the mean of all but the largest stands beside it.
 */
function spreadOf(deviations: readonly number[]): number {
  const sizes = [...deviations].sort((a, b) => a - b);
  const others = sizes.length > 1 ? meanOf(sizes.slice(0, -1)) : 0;
  return Math.max(MEDIAN_TO_SIGMA * (medianOf(sizes) ?? 0), MEAN_TO_SIGMA * others);
}

const meanOf = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;
