import type { CurvePoint, GaugeCurve, MarkResult } from '../../core/curve/types';
import { scaleOf } from '../schema/scale';

/** A setting that speaks against the others, and how good the curve is without what hangs on it. Dial units, 95 %. */
export type DoubtfulSetting = {
  readonly resistanceOhm: number;
  /** The range in which the curve is good all the same; left out where none is left. */
  readonly good?: { readonly from: number; readonly to: number; readonly expandedUncertainty: number };
};

/** Two settings of the box that differ by less are the same setting. */
const SAME_OHM_PART = 1e-3;
/** So many times the gap of the other settings, and so large a part of the scale, is no play of the needle. Common practice, no source. */
const GAP_RATIO = 3;
const GAP_PART = 0.02;
/** Fewer pairs have no usual gap. */
const FEWEST_GAPS = 3;
/** A mark that is known so many times worse than the others, beside an end that was read once, hangs on that reading. */
const DOUBT_RATIO = 3;
/** What counts as beside an end, by ratio of ohms. Common practice, no source. */
const BESIDE = 1.2;

const isSame = (one: number, other: number): boolean => Math.abs(one - other) <= SAME_OHM_PART * other;
const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? NaN;

/** Sure to this, in dial units at 95 %. */
const known = (mark: MarkResult): number =>
  mark.coverageFactor * Math.hypot(...mark.budget.map((line) => line.readingUncertainty));

const settingsOf = (points: readonly CurvePoint[]): number[] =>
  points
    .map((each) => each.resistanceOhm)
    .filter((ohm, index, all) => all.findIndex((each) => isSame(each, ohm)) === index);

/** What is far from the rest at one setting read more than once: the legs there differ as nowhere else. */
const oddGap = (points: readonly CurvePoint[], span: number): number | undefined => {
  const gaps = settingsOf(points).flatMap((resistanceOhm) => {
    const readings = points
      .filter((each) => isSame(each.resistanceOhm, resistanceOhm))
      .map((each) => each.reading);
    return readings.length < 2 ? [] : [{ resistanceOhm, gap: Math.max(...readings) - Math.min(...readings) }];
  });
  const [worst, ...others] = gaps.sort((a, b) => b.gap - a.gap);
  if (worst === undefined || gaps.length < FEWEST_GAPS || worst.gap <= GAP_PART * span) return undefined;
  return worst.gap > GAP_RATIO * median(others.map((each) => each.gap)) ? worst.resistanceOhm : undefined;
};

/** An end of the range that was read once, and beside which the curve is known far worse than elsewhere. */
const looseEnd = (curve: GaugeCurve): number | undefined => {
  const { points, marks } = curve;
  const usual = median(
    marks.filter((each) => each.note === 'between' || each.note === 'measured').map(known),
  );
  const ends = [curve.model.measuredFromOhm, curve.model.measuredToOhm];
  return ends.find((end) => {
    if (points.filter((each) => isSame(each.resistanceOhm, end)).length !== 1) return false;
    return marks.some(
      (mark) =>
        Math.max(mark.resistanceOhm, end) <= BESIDE * Math.min(mark.resistanceOhm, end) &&
        known(mark) > DOUBT_RATIO * usual,
    );
  });
};

const goodPart = (curve: GaugeCurve, doubtfulOhm: number): Pick<DoubtfulSetting, 'good'> => {
  const settings = settingsOf(curve.points);
  const nearest = (ohm: number): number =>
    settings.reduce((best, each) =>
      Math.abs(Math.log(each / ohm)) < Math.abs(Math.log(best / ohm)) ? each : best,
    );
  const good = curve.marks.filter(
    (mark) =>
      (mark.note === 'measured' || mark.note === 'between') &&
      Number.isFinite(known(mark)) &&
      !isSame(nearest(mark.resistanceOhm), doubtfulOhm),
  );
  if (good.length < 2) return {};
  const readings = good.map((mark) => mark.reading);
  return {
    good: {
      from: Math.min(...readings),
      to: Math.max(...readings),
      expandedUncertainty: Math.max(...good.map(known)),
    },
  };
};

/**
 * The one setting that is to be read again before anything is said of the gauge: the fit questions its reading, its legs
 * differ as nowhere else, or the curve's end hangs on it alone. One slip of a reading looks like play of the needle, or
 * like a curve that nobody knows. Undefined where no setting stands out, or where several do.
 */
export const doubtfulSetting = (
  curve: GaugeCurve,
  marks: Parameters<typeof scaleOf>[0],
): DoubtfulSetting | undefined => {
  const points = curve.points.filter((each) => each.role !== 'bound');
  const questioned = settingsOf(points.filter((each) => each.role === 'questioned'));
  const only = questioned.length === 1 ? questioned[0] : undefined;
  const resistanceOhm =
    oddGap(points, scaleOf(marks).span) ?? curve.legs.again[0]?.resistanceOhm ?? only ?? looseEnd(curve);
  return resistanceOhm === undefined ? undefined : { resistanceOhm, ...goodPart(curve, resistanceOhm) };
};
