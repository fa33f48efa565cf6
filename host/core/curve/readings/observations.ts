import { refuse } from '../../refusal';
import type { Refusal, Refusals } from '../../refusal';
import { placesOf } from './expected-scatter';
import type { Placed } from './expected-scatter';
import { commonHalf } from './legs';
import type { Row } from './row';
import type { CurveOptions, CurveRefusalCode, GaugeReading } from '../types';

export type { Row } from './row';

export type Observations = {
  /** In order of resistance. */
  readonly rows: readonly Row[];
  readonly fitted: readonly Row[];
  readonly bounds: readonly Row[];
  /** Readings that all others contradict: no law is asked to follow them. */
  readonly struck: readonly Row[];
  readonly risesWithResistance: boolean;
  readonly step: number;
  readonly span: number;
  /** What `person` is measured in: the whole arc, or the span of the readings where the dial is not known. */
  readonly arc: number;
  /** Scatter expected before anything is measured: from the reader, or from the step. */
  readonly expectedScatter: number;
  /** How many readings that expectation is worth. */
  readonly expectationWeight: number;
  readonly hasBothLegs: boolean;
};

/** Settings closer than this are the same setting of the box read back twice. */
const SAME_SETTING = { relative: 0.001, ohm: 0.02 } as const;
const FEWEST_SETTINGS = 3;
/** A person reads a few hundred, a camera some thousand; a fit of this many takes about a quarter of a minute. */
const MOST_CURVE_READINGS = 10_000;
/** The errors of one setting's readings are weighed against each other, which grows with the cube of their number. */
const MOST_AT_ONE_SETTING = 300;
/** An expectation from the step alone is worth two readings; one from the reader is worth ten. */
const STEP_EXPECTATION = 2;
const READER_EXPECTATION = 10;
/** Part of the variation that a monotone curve must explain before the readings count as monotone. */
const LEAST_EXPLAINED = 0.75;
/** Readings that differ by less are the same in any unit; the squares of such differences would be lost to rounding. */
const LEAST_RANGE = 1e-60;

type ObservationRefusal = Refusal<CurveRefusalCode>;

/**
 * Checks readings and makes them ready for fitting; `ownScatter` is what each place scatters by for its resistance alone.
 * Source: derived here.
 * Refuses: numbers that are not finite or resistances below zero (CURVE_BAD_NUMBER), all readings at stops
 * (CURVE_ALL_AT_STOPS), more than 10,000 of them or 300 at one setting (CURVE_TOO_MANY), fewer than three settings off
 * the stops (CURVE_TOO_FEW), a needle that did not move (CURVE_FLAT), readings that neither rise nor fall with resistance
 * (CURVE_NOT_MONOTONE).
 */
export function observationsOf(
  readings: readonly GaugeReading[],
  options: CurveOptions,
  ownScatter: readonly number[] = [],
): (Observations & { readonly kind: 'observations' }) | ObservationRefusal {
  if (readings.length > MOST_CURVE_READINGS)
    return refuse('CURVE_TOO_MANY', { readingCount: readings.length, most: MOST_CURVE_READINGS });
  const bad = readings.findIndex((one) => !isUsable(one));
  if (bad >= 0) return refuse('CURVE_BAD_NUMBER', badNumber(bad, readings[bad]!));
  const placed = placesOf(readings, options, ownScatter);
  const rows = rowsOf(placed);
  const fitted = rows.filter((row) => row.bound === 'none');
  const refusal = tooLittle(rows, fitted) ?? tooOften(rows);
  if (refusal !== undefined) return refusal;
  const values = fitted.map((row) => row.reading);
  const range = Math.max(...values) - Math.min(...values);
  if (!(range > Math.max(LEAST_RANGE, 1e-9 * Math.max(...values.map(Math.abs)))))
    return refuse('CURVE_FLAT', {
      reading: readings[fitted[0]!.index]!.reading,
      unit: options.unit ?? '',
    });
  const sense = senseOf(fitted);
  if (sense.explained < LEAST_EXPLAINED)
    return refuse('CURVE_NOT_MONOTONE', { explainedPercent: Math.round(100 * sense.explained) });
  return {
    kind: 'observations',
    rows,
    fitted,
    bounds: rows.filter((row) => row.bound !== 'none'),
    struck: [],
    risesWithResistance: sense.rises,
    step: placed.step,
    span: placed.span,
    arc: placed.arc,
    expectedScatter: placed.typicalScatter,
    expectationWeight: placed.isGiven ? READER_EXPECTATION : STEP_EXPECTATION,
    hasBothLegs: [-1, 1].every((sign) => fitted.filter((row) => row.legSign === sign).length >= 2),
  };
}

const isUsable = ({
  resistanceOhm,
  reading,
  readingUncertainty,
  resistanceUncertaintyOhm = 0,
}: GaugeReading): boolean =>
  Number.isFinite(resistanceOhm) &&
  resistanceOhm >= 0 &&
  Number.isFinite(reading) &&
  Number.isFinite(resistanceUncertaintyOhm) &&
  resistanceUncertaintyOhm >= 0 &&
  (readingUncertainty === undefined || (Number.isFinite(readingUncertainty) && readingUncertainty > 0));

const badNumber = (
  index: number,
  { resistanceOhm, reading }: GaugeReading,
): Refusals['CURVE_BAD_NUMBER'] => ({ readingNumber: index + 1, resistanceOhm, reading });

function rowsOf({ places, typicalScatter }: Placed): Row[] {
  const order = [...places].sort((a, b) => a.one.resistanceOhm - b.one.resistanceOhm || a.index - b.index);
  let setting = -1;
  let settingOhm = -Infinity;
  return order.map(({ one, index, place, scatter }) => {
    const ohm = one.resistanceOhm;
    if (ohm - settingOhm > SAME_SETTING.relative * ohm + SAME_SETTING.ohm)
      [setting, settingOhm] = [setting + 1, ohm];
    return {
      index,
      ohm,
      reading: place,
      legSign: one.leg === 'up' ? -1 : one.leg === 'down' ? 1 : 0,
      bound: one.atStop === 'low' ? 'at most' : one.atStop === 'high' ? 'at least' : 'none',
      relativeScatter: scatter / typicalScatter,
      setting,
    };
  });
}

function tooLittle(rows: readonly Row[], fitted: readonly Row[]): ObservationRefusal | undefined {
  if (rows.length > 0 && fitted.length === 0) return refuse('CURVE_ALL_AT_STOPS', {});
  const settings = new Set(fitted.map((row) => row.setting)).size;
  if (settings >= FEWEST_SETTINGS) return undefined;
  return refuse('CURVE_TOO_FEW', { settingCount: settings, fewest: FEWEST_SETTINGS });
}

function tooOften(rows: readonly Row[]): ObservationRefusal | undefined {
  const counts = new Map<number, number>();
  for (const { setting } of rows) counts.set(setting, (counts.get(setting) ?? 0) + 1);
  const crowded = rows.find(({ setting }) => (counts.get(setting) ?? 0) > MOST_AT_ONE_SETTING);
  if (crowded === undefined) return undefined;
  const readingCount = counts.get(crowded.setting) ?? 0;
  return refuse('CURVE_TOO_MANY', { readingCount, most: MOST_AT_ONE_SETTING, atOhm: crowded.ohm });
}

function senseOf(fitted: readonly Row[]): { readonly rises: boolean; readonly explained: number } {
  // A needle that sticks reads apart on its two legs, and yet each leg is in order.
  const half = commonHalf(fitted);
  const values = fitted.map((row) => row.reading - half * row.legSign);
  const up = isotonicMisfit(fitted, values);
  const down = isotonicMisfit(
    fitted,
    values.map((value) => -value),
  );
  const middle = [...values].sort((a, b) => a - b)[values.length >> 1]!;
  const total = values.reduce((sum, value) => sum + Math.abs(value - middle), 0);
  return { rises: up <= down, explained: 1 - Math.min(up, down) / total };
}

/** Sum of absolute deviations from the best rising curve. Source: pool adjacent violators (Ayer et al. 1955). */
function isotonicMisfit(rows: readonly Row[], values: readonly number[]): number {
  const pools: { sum: number; count: number; setting: number }[] = [];
  rows.forEach((row, i) => {
    const last = pools.at(-1);
    // Readings of one setting are one place on the axis.
    if (last?.setting === row.setting)
      Object.assign(last, { sum: last.sum + values[i]!, count: last.count + 1 });
    else pools.push({ sum: values[i]!, count: 1, setting: row.setting });
    mergeFalling(pools);
  });
  let at = 0;
  let misfit = 0;
  for (const { sum, count } of pools)
    for (let k = 0; k < count; k += 1, at += 1) misfit += Math.abs(values[at]! - sum / count);
  return misfit;
}

function mergeFalling(pools: { sum: number; count: number; setting: number }[]): void {
  while (pools.length > 1) {
    const last = pools[pools.length - 1]!;
    const before = pools[pools.length - 2]!;
    if (before.sum / before.count <= last.sum / last.count) return;
    pools.pop();
    Object.assign(before, {
      sum: before.sum + last.sum,
      count: before.count + last.count,
      setting: last.setting,
    });
  }
}
