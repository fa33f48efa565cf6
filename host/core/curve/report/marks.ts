import { placeOf } from '../../dial';
import { refuse } from '../../refusal';
import type { Refusal } from '../../refusal';
import { lawOhm, modelPlace, modelReading, placeOhm } from './evaluate';
import { lawReading, lawSlope } from '../laws/law-model';
import type { CurveModel, GaugeCurve, Ground, MarkResult, Prediction } from '../types';
import { budgetAt, combined, inReadings, placeBudgetAt, resistanceStandard } from './uncertainty';

/**
 * Two resistances nearer than this are one setting: 2 % are less than 1 K of a coolant sender (common practice, no
 * source), half the width of its needle.
 */
const SAME_OHM_PART = 0.02;

/**
 * Resistance at which the needle stands on a reading, with its expanded uncertainty; undefined where the curve does not
 * reach or is flat. Source: inverse of the curve; its budget is that of the reading, taken through the slope.
 */
export function markOf(model: CurveModel, reading: number): MarkResult | undefined {
  const place = placeOf(model.dial, reading);
  const onPlateau = placeOhm(model, place, plateauTolerance(model));
  if (onPlateau.kind === 'interval') return plateauMark(model, reading, onPlateau);
  const resistanceOhm = onPlateau.kind === 'one' ? onPlateau.resistanceOhm : shortFor(model, place);
  if (resistanceOhm === undefined) return undefined;
  const budget = placeBudgetAt(model, resistanceOhm);
  const slope = Math.abs(lawSlope(model.chosen, resistanceOhm));
  const straight = budget.expanded / slope;
  const ends = [place - budget.expanded, place + budget.expanded]
    .map((value) => lawOhm(model, value))
    .sort((one, other) => (one ?? 0) - (other ?? 0));
  // Where the law does not reach, the straight line stands in.
  const [low, high] = ends.some((end) => end === undefined) ? [undefined, undefined] : ends;
  const fromOhm = Math.max(0, low ?? resistanceOhm - straight);
  const toOhm = high ?? resistanceOhm + straight;
  // A curve this flat says nothing about the resistance of a reading.
  if (!Number.isFinite(straight + toOhm)) return undefined;
  return {
    reading,
    resistanceOhm,
    expandedUncertaintyOhm: Math.max((toOhm - fromOhm) / 2, straight),
    coverageFactor: budget.coverageFactor,
    fromOhm,
    toOhm,
    effectiveDegreesOfFreedom: budget.effectiveDegreesOfFreedom,
    budget: inReadings(model, resistanceOhm, budget).lines,
    note: placeNote(model, resistanceOhm, place),
  };
}

/** A reading that the curve just misses at a short circuit, by less than its uncertainty, belongs to the short. */
function shortFor(model: CurveModel, place: number): number | undefined {
  if (model.chosen.form !== 'shape' && model.measuredFromOhm > 0) return undefined;
  return Math.abs(lawReading(model.chosen, 0) - place) <= placeBudgetAt(model, 0).expanded ? 0 : undefined;
}

function plateauMark(
  model: CurveModel,
  reading: number,
  { fromOhm, toOhm }: { readonly fromOhm: number; readonly toOhm: number },
): MarkResult {
  const resistanceOhm = (fromOhm + toOhm) / 2;
  const edge = resistanceStandard(model.resistanceUncertainty, toOhm);
  const budget = budgetAt(model, resistanceOhm);
  const expanded = (toOhm - fromOhm) / 2 + budget.coverageFactor * edge;
  return {
    reading,
    resistanceOhm,
    expandedUncertaintyOhm: expanded,
    coverageFactor: budget.coverageFactor,
    fromOhm: Math.max(0, resistanceOhm - expanded),
    toOhm: resistanceOhm + expanded,
    effectiveDegreesOfFreedom: budget.effectiveDegreesOfFreedom,
    budget: budget.lines,
    note: 'plateau',
  };
}

/** A mark within a third of a reading's scatter of a plateau cannot be told from it. */
const plateauTolerance = (model: CurveModel): number =>
  Math.max(model.readingStandardDeviation, 1e-9 * model.span);

/**
 * What a resistance rests on: a reading given at it, readings on both sides of it, or the law alone. Judged by ohms, as
 * the settings were made: a dial crowds at its ends, and what is near on the arc may be far in ohms.
 */
function groundAt(model: CurveModel, ohm: number): Ground {
  const isOn = (setting: number): boolean =>
    Math.abs(setting - ohm) <= SAME_OHM_PART * Math.max(setting, ohm);
  if (model.settingsOhm.some(isOn)) return 'measured';
  return ohm > model.measuredFromOhm && ohm < model.measuredToOhm ? 'between' : 'beyond';
}

function placeNote(model: CurveModel, ohm: number, place: number): MarkResult['note'] {
  if (model.plateaus.some(({ fromOhm, toOhm }) => ohm >= fromOhm && ohm <= toOhm)) return 'plateau';
  if (place < model.lowestReading || place > model.highestReading) return 'at stop';
  return groundAt(model, ohm);
}

/**
 * Reading expected at a resistance (>= 0; Infinity is an open circuit) with its expanded uncertainty: of the curve, and of one further reading on either leg.
 * Source: `budgetAt`; a further reading adds its own scatter and half the difference of the legs (rectangular).
 * Refuses: a resistance that is no number or below zero (CURVE_BAD_NUMBER), or so far beyond the measured ones that the
 * curve says nothing at all there (CURVE_TOO_FAR).
 */
export function readingAt(
  curve: GaugeCurve,
  resistanceOhm: number,
): Prediction | Refusal<'CURVE_BAD_NUMBER' | 'CURVE_TOO_FAR'> {
  if (!(resistanceOhm >= 0)) return refuse('CURVE_BAD_NUMBER', { resistanceOhm });
  const { model } = curve;
  const budget = placeBudgetAt(model, resistanceOhm);
  const half = Math.max(Math.abs(model.hysteresisHalf), model.unseenHysteresisHalf);
  const further = combined(
    [
      ...budget.lines.filter((one) => one.source !== 'hysteresis'),
      {
        source: 'reading',
        readingUncertainty: model.readingStandardDeviation,
        degreesOfFreedom: model.fitDegreesOfFreedom,
      },
      { source: 'hysteresis', readingUncertainty: half / Math.sqrt(3), degreesOfFreedom: null },
    ],
    model.coverage,
  );
  if (!Number.isFinite(further.expanded)) return tooFar(model, resistanceOhm);
  const shown = inReadings(model, resistanceOhm, budget);
  return {
    kind: 'prediction',
    resistanceOhm,
    reading: modelReading(model, resistanceOhm),
    expandedUncertainty: shown.expanded,
    coverageFactor: budget.coverageFactor,
    effectiveDegreesOfFreedom: budget.effectiveDegreesOfFreedom,
    expandedUncertaintyOfOneReading: inReadings(model, resistanceOhm, further).expanded,
    budget: shown.lines,
    note: predictionNote(model, resistanceOhm),
  };
}

const tooFar = (model: CurveModel, resistanceOhm: number): Refusal<'CURVE_TOO_FAR'> =>
  refuse('CURVE_TOO_FAR', {
    resistanceOhm,
    measuredFromOhm: model.measuredFromOhm,
    measuredToOhm: model.measuredToOhm,
  });

function predictionNote(model: CurveModel, ohm: number): Prediction['note'] {
  const place = modelPlace(model, ohm);
  const isAtStop = place <= model.lowestReading || place >= model.highestReading;
  if (isAtStop && (model.lowStopReading === place || model.highStopReading === place)) return 'at stop';
  return placeNote(model, ohm, place);
}

/** Marks of a curve for readings of the caller's choice; those that the curve does not reach are left out. Source: `markOf`. */
export const marksOf = (curve: GaugeCurve, readings: readonly number[]): MarkResult[] =>
  readings.flatMap((reading) => markOf(curve.model, reading) ?? []);
