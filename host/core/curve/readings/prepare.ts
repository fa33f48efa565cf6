import type { FitContext } from './fit-context';
import { logAxis } from './log-axis';
import type { Observations } from './observations';
import { findPlateaus } from './plateaus';
import type { Plateau } from './plateaus';
import { settingsOf } from './settings';
import { unmarkedStops } from './unmarked-stops';
import type { LogAxis } from '../types';
import { pairedHalf } from './legs';
import { whiteningOf } from './whitening';

/** Turns resting ends that nobody marked into readings at a stop. Source: `unmarkedStops`. */
export function withUnmarkedStops(observations: Observations): {
  readonly observations: Observations;
  readonly inferred: ReadonlySet<number>;
} {
  const half = pairedHalf(observations.fitted);
  const settings = settingsOf(observations.fitted, half, logAxis(observations.fitted.map((row) => row.ohm)));
  const stops = unmarkedStops(settings, noiseOf(observations));
  const bound = new Map(
    stops.flatMap(({ side, rows }) =>
      rows.map((row) => [row.index, side === 'low' ? 'at most' : 'at least'] as const),
    ),
  );
  const rows = observations.rows.map((row) => ({ ...row, bound: bound.get(row.index) ?? row.bound }));
  return {
    observations: {
      ...observations,
      rows,
      fitted: rows.filter((row) => row.bound === 'none'),
      bounds: rows.filter((row) => row.bound !== 'none'),
    },
    inferred: new Set(bound.keys()),
  };
}

/** Dead zones, the half difference of the legs taken out. Source: `findPlateaus`. */
export function plateausOf(observations: Observations, half: number): Plateau[] {
  const axis = logAxis(observations.fitted.map((row) => row.ohm));
  const settings = settingsOf(observations.fitted, half, axis);
  return findPlateaus(settings, axis, {
    ...noiseOf(observations),
    half: Math.abs(half),
    ownScatter: Math.sqrt(whiteningOf(observations, half).within.variance),
  });
}

/** What every law is fitted against, all readings believed. Source: `whiteningOf`, `logAxis`. */
export function preparedContext(observations: Observations, plateaus: readonly Plateau[]): FitContext {
  const half = pairedHalf(observations.fitted);
  return {
    observations,
    whitening: whiteningOf(observations, half),
    weights: observations.fitted.map(() => 1),
    hasHalf: observations.hasBothLegs,
    axis: logAxis(
      observations.fitted.map((row) => row.ohm),
      removedStretches(plateaus),
    ),
  };
}

/** Speeds multiply along the axis: each stretch is relative to what came before the first plateau. */
function removedStretches(plateaus: readonly Plateau[]): LogAxis['removed'] {
  let stretch = 1;
  return plateaus.map(({ report: { fromOhm, toOhm }, speedRatio }) => {
    stretch *= speedRatio;
    return { fromOhm, toOhm, stretch };
  });
}

const noiseOf = (observations: Observations) => ({
  scatter: Math.max(
    observations.expectedScatter,
    Math.sqrt(whiteningOf(observations, pairedHalf(observations.fitted)).within.variance),
  ),
  step: observations.step,
  span: observations.span,
  rises: observations.risesWithResistance,
});
