import { fitCurve, marksOf, type LawName } from '../../core/curve';
import { placeOf } from '../../core/dial';
import { countedReadings, curveOptionsOf, curveReadings, scaleOf } from '../../job';
import type { Gauge, JobState, Leg, Reading, Sweep } from '../../job';

/** Where the search for a mark begins and how long its first step is (relative); a start only: the reading is the person's. */
export type SeekStart = { readonly ohm: number; readonly stepFraction: number };

/** First step where next to nothing is known, and where the mark was read on the other leg but no lag was seen yet. */
const STEP_UNKNOWN = 0.25;
const STEP_OTHER_LEG = 0.02;
/** Longest first step where the law of the mechanism says where to look, or the family promises the end of the scale. */
const STEP_BY_LAW = 0.06;
/** A curve that is less sure of a resistance than this knows no more than a straight line. */
const LEAST_SURE = 0.15;

const movingReadings = (state: JobState): Reading[] =>
  countedReadings(state).filter(({ atStop, resistanceOhm }) => atStop === undefined && resistanceOhm > 0);

/**
 * Where a mark is to be looked for, the best that is known first: where it was read on the other leg, the curve through
 * what was read so far, a straight line from arc to ln R. Source: derived here.
 */
export const seekStart = (
  state: JobState,
  sweep: Sweep,
  wanted: { readonly reading: number; readonly leg: Leg },
): SeekStart =>
  otherLegStart(movingReadings(state), wanted) ??
  curveStart(state, sweep, wanted.reading) ??
  straightStart(state, sweep, wanted.reading);

/** The mark itself on the other leg, shifted by the lag that other marks have shown. */
const otherLegStart = (
  readings: readonly Reading[],
  { reading, leg }: { readonly reading: number; readonly leg: Leg },
): SeekStart | undefined => {
  const lnOhmOf = (mark: number, wanted: Leg): number | undefined => {
    const there = readings.filter((one) => one.reading === mark && one.leg === wanted);
    if (there.length === 0) return undefined;
    return there.reduce((sum, one) => sum + Math.log(one.resistanceOhm), 0) / there.length;
  };
  const other = leg === 'up' ? 'down' : 'up';
  const there = lnOhmOf(reading, other);
  if (there === undefined) return undefined;
  const shifts = [...new Set(readings.map((one) => one.reading))].flatMap((mark) => {
    const [here, opposite] = [lnOhmOf(mark, leg), lnOhmOf(mark, other)];
    return here === undefined || opposite === undefined ? [] : [here - opposite];
  });
  if (shifts.length === 0) return { ohm: Math.exp(there), stepFraction: STEP_OTHER_LEG };
  const shift = shifts.reduce((sum, one) => sum + one, 0) / shifts.length;
  return { ohm: Math.exp(there + shift), stepFraction: Math.abs(shift) / 2 };
};

/** The law of each mechanism; a program has none. */
const LAW: Readonly<Record<Gauge['mechanism'], LawName | undefined>> = {
  thermal: 'thermal',
  'two-coil': 'two-coil',
  'cross-coil': 'cross-coil',
  'moving-coil': 'ratio',
  electronic: undefined,
  unknown: undefined,
};

/** The family's end stands in for the far end of the scale until that is read: with the mechanism's law three points do. */
const curveStart = (state: JobState, sweep: Sweep, reading: number): SeekStart | undefined => {
  const { highest } = scaleOf(state.gauge.marks);
  const law = LAW[state.gauge.mechanism];
  const read = curveReadings(state);
  const isTopRead = read.some((one) => one.reading >= highest);
  const end = isTopRead ? [] : [{ resistanceOhm: sweep.toOhm, reading: highest, isSought: true }];
  const curve = fitCurve([...read, ...end], {
    ...curveOptionsOf(state.gauge),
    marks: [],
    ...(law === undefined ? {} : { law }),
  });
  if (curve.kind === 'refused') return undefined;
  const [mark] = marksOf(curve, [reading]);
  if (mark === undefined || !(mark.resistanceOhm > 0)) return undefined;
  const unsure = mark.expandedUncertaintyOhm / mark.resistanceOhm;
  if (law === undefined && unsure > LEAST_SURE) return undefined;
  return { ohm: mark.resistanceOhm, stepFraction: Math.min(STEP_BY_LAW, unsure / 2) };
};

type Point = { readonly place: number; readonly lnOhm: number };

/** Through the two known points that enclose the mark, or the two nearest; the family's ends stand beyond what was read. */
const straightStart = (state: JobState, sweep: Sweep, reading: number): SeekStart => {
  const { dial } = curveOptionsOf(state.gauge);
  const { lowest, highest } = scaleOf(state.gauge.marks);
  const read = movingReadings(state);
  const values = read.map((one) => one.reading);
  const points: Point[] = [
    ...read.map((one) => ({ place: placeOf(dial, one.reading), lnOhm: Math.log(one.resistanceOhm) })),
    ...(Math.min(...values) > lowest
      ? [{ place: placeOf(dial, lowest), lnOhm: Math.log(sweep.fromOhm) }]
      : []),
    ...(Math.max(...values) < highest
      ? [{ place: placeOf(dial, highest), lnOhm: Math.log(sweep.toOhm) }]
      : []),
  ];
  const isEnd = reading === lowest || reading === highest;
  const stepFraction = isEnd ? STEP_BY_LAW : STEP_UNKNOWN;
  return { ohm: Math.exp(interpolate(points, placeOf(dial, reading))), stepFraction };
};

const interpolate = (points: readonly Point[], place: number): number => {
  const sorted = [...points].sort((a, b) => Math.abs(a.place - place) - Math.abs(b.place - place));
  const [nearest] = sorted;
  if (nearest === undefined) return 0;
  const across = sorted.find((point) => (point.place - place) * (nearest.place - place) < 0);
  const other = across ?? sorted.find((point) => point.place !== nearest.place);
  if (other === undefined) return nearest.lnOhm;
  const part = (place - nearest.place) / (other.place - nearest.place);
  return nearest.lnOhm + part * (other.lnOhm - nearest.lnOhm);
};
