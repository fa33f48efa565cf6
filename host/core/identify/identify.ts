import type { GaugeResponse, SenderResponse } from '../response';
import { isRefused, type Refusal, refuse } from '../refusal';
import type { SenderPoint } from '../sender';
import { compressedOhm, compressionSlope, ohmFromCompressed } from './compressed-ohm';
import { knownGauge, knownSender, type Observation } from './known-curve';
import { type Identification, rankCurves } from './rank';

/** A curve of the catalogue under the name by which the answer speaks of it. */
export type NamedSender = {
  readonly id: string;
  readonly response: SenderResponse;
  readonly tolerancePercent?: number | undefined;
};
export type NamedGauge = {
  readonly id: string;
  readonly response: GaugeResponse;
  readonly tolerancePercent?: number | undefined;
};

/** A reading of a gauge: the resistance set and where the needle stood. */
export type GaugeObservation = {
  readonly resistanceOhm: number;
  readonly reading: number;
  readonly readingUncertainty?: number | undefined;
  readonly resistanceUncertaintyOhm?: number | undefined;
};

/** Thermometer in a kitchen bath; 1 % of the span for anything else. Common practice, no source. */
const USUAL_TEMPERATURE_UNCERTAINTY = 1;
const USUAL_SPAN_SHARE = 0.01;
/** A multimeter with its leads. Common practice, no source. */
const USUAL_OHM_SHARE = 0.01;
const USUAL_OHM = 0.2;
/** Where a needle stands, as a share of the dial. Common practice, no source. */
const USUAL_NEEDLE_SHARE = 0.01;

/**
 * Which known sender a few measured points belong to. Points and curves speak one unit.
 * Source: `rankCurves`. Refuses: as there, IDENTIFY_POINT (a number that cannot be), IDENTIFY_UNIT.
 */
export function identifySender(
  points: readonly SenderPoint[],
  unit: string,
  known: readonly NamedSender[],
): Identification | Refusal {
  const fault =
    unitFault(unit, known) ?? pointFault(points.map(({ value, resistanceOhm }) => [value, resistanceOhm]));
  if (fault !== undefined) return fault;
  const values = points.map(({ value }) => value);
  const usual = usualValueUncertainty(unit, Math.max(...values) - Math.min(...values));
  const observations = points.map((point): Observation => {
    const ohmUncertainty =
      point.resistanceUncertaintyOhm ?? USUAL_OHM + USUAL_OHM_SHARE * point.resistanceOhm;
    return {
      argument: point.value,
      observed: compressedOhm(point.resistanceOhm),
      argumentUncertainty: point.valueUncertainty ?? usual,
      observedUncertainty: ohmUncertainty * compressionSlope(point.resistanceOhm),
    };
  });
  const curves = known.map(({ id, response, tolerancePercent }) =>
    knownSender(id, response, tolerancePercent),
  );
  const found = rankCurves(observations, curves);
  return isRefused(found) ? found : inOhm(found);
}

/**
 * Which known gauge a few readings belong to. Readings and curves speak one unit.
 * Source: `rankCurves`. Refuses: as there, IDENTIFY_POINT, IDENTIFY_UNIT.
 */
export function identifyGauge(
  readings: readonly GaugeObservation[],
  unit: string,
  known: readonly NamedGauge[],
): Identification | Refusal {
  const fault =
    unitFault(unit, known) ??
    pointFault(readings.map(({ reading, resistanceOhm }) => [reading, resistanceOhm]));
  if (fault !== undefined) return fault;
  const spans = known.map(({ response }) => Math.abs(response.highestReading - response.lowestReading));
  const usual = USUAL_NEEDLE_SHARE * Math.max(0, ...spans);
  const observations = readings.map((each): Observation => ({
    argument: each.resistanceOhm,
    observed: each.reading,
    argumentUncertainty: each.resistanceUncertaintyOhm ?? USUAL_OHM + USUAL_OHM_SHARE * each.resistanceOhm,
    observedUncertainty: each.readingUncertainty ?? usual,
  }));
  return rankCurves(
    observations,
    known.map(({ id, response, tolerancePercent }) => knownGauge(id, response, tolerancePercent)),
  );
}

function usualValueUncertainty(unit: string, span: number): number {
  if (unit === 'degC') return USUAL_TEMPERATURE_UNCERTAINTY;
  if (unit === 'degF') return USUAL_TEMPERATURE_UNCERTAINTY * 1.8;
  return USUAL_SPAN_SHARE * span;
}

/** The next place of a sender, told in ohm instead of the scale of comparison. */
function inOhm(found: Identification): Identification {
  if (found.next === null) return found;
  const { firstExpects, secondExpects } = found.next;
  return {
    ...found,
    next: {
      ...found.next,
      firstExpects: ohmFromCompressed(firstExpects),
      secondExpects: ohmFromCompressed(secondExpects),
    },
  };
}

function unitFault(
  unit: string,
  known: readonly { readonly id: string; readonly response: { readonly unit: string } }[],
): Refusal | undefined {
  const other = known.find(({ response }) => response.unit !== unit);
  if (other === undefined) return undefined;
  return refuse('IDENTIFY_UNIT', { id: other.id, curveUnit: other.response.unit, pointsUnit: unit });
}

function pointFault(pairs: readonly (readonly [number, number])[]): Refusal | undefined {
  const at = pairs.findIndex(([value, ohm]) => !Number.isFinite(value) || !Number.isFinite(ohm) || ohm < 0);
  if (at < 0) return undefined;
  const [value, resistanceOhm] = pairs[at]!;
  return refuse('IDENTIFY_POINT', { pointNumber: at + 1, value, resistanceOhm });
}
