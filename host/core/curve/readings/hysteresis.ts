import { cubicAt, monotoneCubic } from '../../numeric/monotone-cubic';
import { axisPosition } from './log-axis';
import type { Row } from './observations';
import type { Hysteresis, LogAxis, Repeatability } from '../types';
import type { Whitening } from './whitening';

/**
 * Half the difference between the legs that is assumed when only one leg was measured, as a part of the span: common
 * practice for dash gauges, no source (trade notes 1.2: moving iron 2-3 % in all; others less).
 */
export const UNSEEN_HALF_PART = 0.01;

type Measured = Extract<Hysteresis, { readonly kind: 'measured' }>;
type LegSetting = { readonly ohm: number; readonly rows: readonly Row[] };
type LegMean = { readonly ohm: number; readonly reading: number };

/**
 * Largest difference between the legs at one resistance. At settings that both legs visited the means are compared;
 * elsewhere one leg is compared with the curve through the other.
 * Source: definition of hysteresis in calibration practice, trade notes 7.3; % of span as in EN 837-1 class limits.
 */
export function hysteresisOf(
  fitted: readonly Row[],
  axis: LogAxis,
  span: number,
  half: { readonly value: number; readonly uncertainty: number },
): Hysteresis {
  const up = legMeans(fitted, -1);
  const down = legMeans(fitted, 1);
  const differences = pairedDifferences(up, down, axis);
  const largest = differences.reduce<(typeof differences)[number] | undefined>(
    (best, one) => (best === undefined || Math.abs(one.difference) > Math.abs(best.difference) ? one : best),
    undefined,
  );
  if (largest === undefined)
    return {
      kind: 'unknown',
      assumedHalf: UNSEEN_HALF_PART * span,
    };
  return {
    kind: 'measured',
    largest: Math.abs(largest.difference),
    percentOfSpan: (100 * Math.abs(largest.difference)) / span,
    atOhm: largest.ohm,
    atReading: largest.reading,
    half: half.value,
    halfUncertainty: half.uncertainty,
    pairs: differences.length,
    ...singleCycleOf(fitted),
  };
}

/**
 * The largest difference of a single cycle: the k-th reading up at a setting with the k-th down there.
 * Source: up-scale and down-scale readings of one cycle, as in the definition of hysteresis error in ANSI/ISA-51.1 (from
 * memory).
 */
function singleCycleOf(fitted: readonly Row[]): Pick<Measured, 'singleCycle'> {
  const rowsOf = (sign: -1 | 1): LegSetting[] => settingsOf(fitted.filter(({ legSign }) => legSign === sign));
  const downs = rowsOf(1);
  const pairs = rowsOf(-1).flatMap((up) => {
    const down = downs.find((other) => isOneSetting(up.ohm, other.ohm));
    return down === undefined ? [] : [{ up, down }];
  });
  if (!pairs.some(({ up, down }) => Math.min(up.rows.length, down.rows.length) > 1)) return {};
  const [largest] = pairs
    .flatMap(({ up, down }) =>
      up.rows
        .slice(0, down.rows.length)
        .map((row, cycle) => differenceAt(row.ohm, row.reading, down.rows[cycle]!.reading)),
    )
    .sort((one, other) => Math.abs(other.difference) - Math.abs(one.difference));
  return largest === undefined
    ? {}
    : {
        singleCycle: {
          difference: Math.abs(largest.difference),
          atOhm: largest.ohm,
          atReading: largest.reading,
        },
      };
}

/** The rows of one leg by setting, in the order they were read. */
function settingsOf(leg: readonly Row[]): LegSetting[] {
  const settings = new Map<number, Row[]>();
  for (const row of [...leg].sort((one, other) => one.index - other.index))
    settings.set(row.setting, [...(settings.get(row.setting) ?? []), row]);
  return [...settings.values()].map((rows) => ({
    ohm: rows.reduce((sum, row) => sum + row.ohm, 0) / rows.length,
    rows,
  }));
}

const legMeans = (fitted: readonly Row[], sign: -1 | 1): LegMean[] =>
  settingsOf(fitted.filter(({ legSign }) => legSign === sign)).map(({ ohm, rows }) => ({
    ohm,
    reading: rows.reduce((sum, row) => sum + row.reading, 0) / rows.length,
  }));

const isOneSetting = (oneOhm: number, otherOhm: number): boolean =>
  Math.abs(otherOhm - oneOhm) <= 0.001 * oneOhm + 0.02;

function pairedDifferences(
  up: readonly LegMean[],
  down: readonly LegMean[],
  axis: LogAxis,
): { difference: number; ohm: number; reading: number }[] {
  const exact = up.flatMap((one) => {
    const partner = down.find((other) => isOneSetting(one.ohm, other.ohm));
    return partner === undefined ? [] : [differenceAt(one.ohm, one.reading, partner.reading)];
  });
  if (exact.length > 0) return exact;
  return [
    ...against(up, down, axis).map(([one, other]) => differenceAt(one.ohm, one.reading, other)),
    ...against(down, up, axis).map(([one, other]) => differenceAt(one.ohm, other, one.reading)),
  ];
}

const differenceAt = (ohm: number, up: number, down: number) => ({
  difference: down - up,
  ohm,
  reading: (up + down) / 2,
});

/** Each mean of one leg with the other leg's curve at its resistance, where that curve was measured. */
function against(ones: readonly LegMean[], others: readonly LegMean[], axis: LogAxis): [LegMean, number][] {
  const curve = monotoneCubic(
    others.map((other) => axisPosition(axis, other.ohm)),
    others.map((other) => other.reading),
  );
  if (curve.kind === 'refused') return [];
  return ones.flatMap((one): [LegMean, number][] => {
    const at = axisPosition(axis, one.ohm);
    const isInside = at >= curve.x[0]! && at <= curve.x.at(-1)!;
    return isInside ? [[one, cubicAt(curve, at)]] : [];
  });
}

/**
 * Scatter of repeats: readings of one setting on one leg. Without repeats the residuals stand in, and without enough of
 * those the reading step.
 * Source: pooled standard deviation; VIM 2.21 measurement repeatability.
 */
export function repeatabilityOf(
  fitted: readonly Row[],
  whitening: Whitening,
  fallback: {
    readonly standardDeviation: number;
    readonly degreesOfFreedom: number;
    readonly expected: number;
  },
): Repeatability {
  const groups = new Map<string, number[]>();
  for (const row of fitted) {
    const key = `${row.setting} ${row.legSign}`;
    groups.set(key, [...(groups.get(key) ?? []), row.reading]);
  }
  let sum = 0;
  let degreesOfFreedom = 0;
  for (const values of groups.values()) {
    const mean = values.reduce((a, b) => a + b, 0) / values.length;
    sum += values.reduce((total, value) => total + (value - mean) ** 2, 0);
    degreesOfFreedom += values.length - 1;
  }
  if (degreesOfFreedom > 0)
    return { standardDeviation: Math.sqrt(sum / degreesOfFreedom), degreesOfFreedom, source: 'repeats' };
  if (whitening.within.degreesOfFreedom > 1 || fallback.degreesOfFreedom > 0)
    return {
      standardDeviation: fallback.standardDeviation,
      degreesOfFreedom: fallback.degreesOfFreedom,
      source: 'residuals',
    };
  return { standardDeviation: fallback.expected, degreesOfFreedom: 0, source: 'reading step' };
}
