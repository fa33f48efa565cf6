import { readingOf } from '../../dial';
import { studentTQuantile } from '../../numeric/student-t';
import { legPairs, oddPairs, pairedHalf } from '../readings/legs';
import type { LegPair } from '../readings/legs';
import type { FitContext } from '../readings/fit-context';
import type { Row } from '../readings/observations';
import type { CurveOptions, GaugeReading, LegsFinding } from '../types';
import { typicalStretch } from './dial-units';

/** Legs that differ by more than this part of the span are no ordinary lag: a good movement shows 2 to 3 % (common practice, no source). */
const STICKY_PART = 0.05;
/** Warming: the difference must grow by this part of the span... */
const WARMING_PART = 0.03;
/** ...from next to nothing where the two readings follow each other. */
const FIRST_PART = 0.35;
const FEWEST_PAIRS = 5;
/** Chance that readings without a trend seem to have one. */
const FALSE_TREND = 0.001;
/** A reading that counts less than this is to be read again. */
const BELIEVED = 0.5;

/** A difference that grows with the time between the two readings, at its largest and at its smallest. */
type Trend = { readonly first: number; readonly last: number };

/**
 * What the two legs say before any law is asked: a setting that differs from the others, a needle that sticks, a gauge
 * that was still warming. The readings are taken to be listed in the order of time.
 * Source: medians of pairs; straight line by least squares for the trend. Derived here.
 */
export function legsFinding(
  readings: readonly GaugeReading[],
  { dial }: CurveOptions,
  { observations, weights }: FitContext,
): LegsFinding {
  const { fitted, struck, span, expectedScatter } = observations;
  const rows = [...fitted, ...struck].sort((one, other) => one.ohm - other.ohm);
  const odd = oddPairs(rows, { scatter: expectedScatter, span }).map((pair) => pair.setting);
  const doubted = [...struck, ...fitted.filter((_, i) => weights[i]! < BELIEVED)];
  const settings = [...new Set([...doubted.map((row) => row.setting), ...odd])].sort((a, b) => a - b);
  const sound = rows.filter((row) => !settings.includes(row.setting));
  const pairs = legPairs(sound);
  const half = pairedHalf(sound);
  const trend = trendOf(pairs, expectedScatter, span);
  const pattern = patternOf({ pairs, trend, part: Math.abs(2 * half) / span });
  const difference = pattern === 'warming' && trend !== undefined ? trend.last : 2 * half;
  return {
    pattern,
    difference: difference * typicalStretch(dial),
    percentOfSpan: (100 * Math.abs(difference)) / span,
    pairs: pairs.length,
    again: settings.map((setting) => againAt(setting, { rows, doubted, readings })),
    ...betweenGood(sound, settings, dial),
  };
}

/** Half the difference that the middle of the legs may be off by, where they differ out of the ordinary. Source: the finding. */
export const oddHalf = ({ pattern, percentOfSpan }: LegsFinding, span: number): number =>
  pattern === 'sticky' || pattern === 'warming' ? (percentOfSpan / 200) * span : 0;

function patternOf(found: {
  readonly pairs: readonly LegPair[];
  readonly trend: Trend | undefined;
  readonly part: number;
}): LegsFinding['pattern'] {
  if (found.pairs.length === 0) return 'not compared';
  if (found.trend !== undefined) return 'warming';
  return found.part > STICKY_PART ? 'sticky' : 'alike';
}

function trendOf(pairs: readonly LegPair[], scatter: number, span: number): Trend | undefined {
  if (pairs.length < FEWEST_PAIRS) return undefined;
  const times = pairs.map((pair) => Math.abs(pair.readingsApart));
  const values = pairs.map((pair) => pair.difference * Math.sign(pair.readingsApart));
  const mean = (list: readonly number[]): number => list.reduce((a, b) => a + b, 0) / list.length;
  const [time, value] = [mean(times), mean(values)];
  const square = times.reduce((sum, each) => sum + (each - time) ** 2, 0);
  if (!(square > 0)) return undefined;
  const slope = times.reduce((sum, each, i) => sum + (each - time) * (values[i]! - value), 0) / square;
  const at = (when: number): number => value + slope * (when - time);
  const rest = values.reduce((sum, each, i) => sum + (each - at(times[i]!)) ** 2, 0);
  const spread = Math.max(Math.sqrt(rest / (pairs.length - 2)), Math.SQRT2 * scatter);
  const limit = studentTQuantile(1 - FALSE_TREND / 2, pairs.length - 2);
  const [first, last] = [at(Math.min(...times)), at(Math.max(...times))];
  const isTrend = Math.abs(slope) * Math.sqrt(square) > limit * spread;
  const startsAtNothing = Math.abs(first) < FIRST_PART * Math.abs(last);
  const isLarge = Math.abs(last) > WARMING_PART * span;
  return isTrend && startsAtNothing && isLarge ? { first, last } : undefined;
}

function againAt(
  setting: number,
  found: {
    readonly rows: readonly Row[];
    readonly doubted: readonly Row[];
    readonly readings: readonly GaugeReading[];
  },
): LegsFinding['again'][number] {
  const here = found.rows.filter((row) => row.setting === setting);
  const given = ({ index }: Row): number => found.readings[index]!.reading;
  return {
    resistanceOhm: found.readings[here[0]!.index]!.resistanceOhm,
    readings: here.map(given),
    doubted: here.filter((row) => found.doubted.includes(row)).map(given),
  };
}

/** The readings between which no setting is doubted: there the curve is good all the same. */
function betweenGood(
  sound: readonly Row[],
  settings: readonly number[],
  dial: CurveOptions['dial'],
): Pick<LegsFinding, 'good'> {
  if (settings.length === 0) return {};
  const runs: Row[][] = [[]];
  for (const row of sound) {
    const last = runs.at(-1)!.at(-1);
    if (last !== undefined && settings.some((one) => one > last.setting && one < row.setting)) runs.push([]);
    runs.at(-1)!.push(row);
  }
  const longest = runs.reduce((best, run) => (run.length > best.length ? run : best));
  if (longest.length < 2) return {};
  const readings = longest.map((row) => readingOf(dial, row.reading));
  return { good: { fromReading: Math.min(...readings), toReading: Math.max(...readings) } };
}
