import { lawFormula, type GaugeCurve, type MarkResult, type Prediction } from '../../core/curve';
import { plain } from '../../words/notation';
import { saidRefusal } from '../../words/refusal';
import { contradictionWords, LEGS_UNKNOWN } from '../../words/remark/curve';
import type { CurveJson } from './answers/curve';

/** The curve in an answer; `trim` and `match` read its points back. */
export function curveJson(
  curve: GaugeCurve,
  predict: readonly Prediction[],
  warnings: readonly string[],
): CurveJson {
  return {
    kind: 'curve',
    quantity: curve.quantity,
    unit: curve.unit,
    ...(curve.model.mechanism === undefined ? {} : { mechanism: curve.model.mechanism }),
    ...dialJson(curve),
    resistance_uncertainty: {
      relative: curve.model.resistanceUncertainty.relative,
      ohm: curve.model.resistanceUncertainty.absoluteOhm,
    },
    law: lawJson(curve),
    laws_tried: curve.candidates.map((candidate) =>
      candidate.kind === 'refused'
        ? { name: candidate.name, refused: saidRefusal(candidate, plain) }
        : {
            name: candidate.name,
            residual_standard_deviation: candidate.residualStandardDeviation,
            aicc: candidate.aicc,
            margin: candidate.margin,
            weight: candidate.weight,
            contradiction:
              candidate.contradictedBy === undefined ? null : contradictionWords(candidate.contradictedBy),
          },
    ),
    points: curve.points.map(pointJson),
    marks: curve.marks.map(markJson),
    legs: legsJson(curve),
    ...supplyJson(curve),
    hysteresis: hysteresisJson(curve),
    repeatability: {
      standard_deviation: curve.repeatability.standardDeviation,
      degrees_of_freedom: curve.repeatability.degreesOfFreedom,
      source: curve.repeatability.source,
    },
    plateaus: curve.plateaus.map(({ fromOhm, toOhm, reading }) => ({
      from_ohm: fromOhm,
      to_ohm: toOhm,
      reading,
    })),
    stops: curve.stops.map((stop) => ({
      side: stop.side,
      reading: stop.reading,
      seen_from_ohm: stop.seenFromOhm,
      seen_to_ohm: stop.seenToOhm,
      reached_at_ohm: stop.reachedAtOhm ?? null,
      source: stop.source,
    })),
    predict: predict.map(predictJson),
    warnings,
  };
}

/** The dial the curve was fitted on, so that reading the document back fits the same curve. */
const dialJson = ({ model: { dial, readingStep } }: GaugeCurve): Pick<CurveJson, 'dial'> =>
  dial === undefined
    ? {}
    : {
        dial: {
          marks: dial.marks.map(({ label, reading, angleFraction }) => ({
            label,
            reading,
            angle_fraction: angleFraction,
          })),
          ...(readingStep === undefined ? {} : { reading_step: readingStep }),
        },
      };

const markJson = (mark: MarkResult): CurveJson['marks'][number] => ({
  reading: mark.reading,
  resistance_ohm: mark.resistanceOhm,
  expanded_uncertainty_ohm: mark.expandedUncertaintyOhm,
  coverage_factor: mark.coverageFactor,
  from_ohm: mark.fromOhm,
  to_ohm: mark.toOhm,
  effective_degrees_of_freedom: mark.effectiveDegreesOfFreedom,
  note: mark.note,
  budget: budgetJson(mark.budget),
});

const predictJson = (prediction: Prediction): CurveJson['predict'][number] => ({
  resistance_ohm: prediction.resistanceOhm,
  reading: prediction.reading,
  expanded_uncertainty: prediction.expandedUncertainty,
  expanded_uncertainty_of_one_reading: prediction.expandedUncertaintyOfOneReading,
  coverage_factor: prediction.coverageFactor,
  effective_degrees_of_freedom: prediction.effectiveDegreesOfFreedom,
  note: prediction.note,
  budget: budgetJson(prediction.budget),
});

const budgetJson = (budget: MarkResult['budget']): CurveJson['marks'][number]['budget'] =>
  budget.map(({ source, readingUncertainty, degreesOfFreedom }) => ({
    source,
    u_reading: readingUncertainty,
    degrees_of_freedom: degreesOfFreedom,
  }));

const legsJson = ({ legs }: GaugeCurve): CurveJson['legs'] => ({
  pattern: legs.pattern,
  difference: legs.difference,
  percent_of_span: legs.percentOfSpan,
  pairs: legs.pairs,
  again: legs.again.map(({ resistanceOhm, readings, doubted }) => ({
    resistance_ohm: resistanceOhm,
    readings,
    doubted,
  })),
  ...(legs.good === undefined
    ? {}
    : { good: { from_reading: legs.good.fromReading, to_reading: legs.good.toReading } }),
});

const supplyJson = ({ supply }: GaugeCurve): Pick<CurveJson, 'supply'> =>
  supply === undefined
    ? {}
    : {
        supply: {
          reference_V: supply.referenceVolt,
          exponent: supply.exponent,
          no_current_reading: supply.noCurrentReading ?? null,
          odds: supply.odds,
          step: supply.step === undefined ? null : { up_V: supply.step.upVolt, down_V: supply.step.downVolt },
          change_12_to_14_V: supply.change12To14,
        },
      };

function hysteresisJson({ hysteresis }: GaugeCurve): CurveJson['hysteresis'] {
  if (hysteresis.kind === 'unknown') {
    return { measured: false, reason: LEGS_UNKNOWN, assumed_half: hysteresis.assumedHalf };
  }
  return {
    measured: true,
    largest: hysteresis.largest,
    percent_of_span: hysteresis.percentOfSpan,
    at_ohm: hysteresis.atOhm,
    at_reading: hysteresis.atReading,
    half: hysteresis.half,
    half_standard_uncertainty: hysteresis.halfUncertainty,
    pairs: hysteresis.pairs,
    ...(hysteresis.singleCycle && {
      largest_single_cycle: hysteresis.singleCycle.difference,
      single_cycle_at_ohm: hysteresis.singleCycle.atOhm,
    }),
  };
}

const lawJson = (curve: GaugeCurve): CurveJson['law'] => ({
  name: curve.law.name,
  formula: lawFormula(curve),
  forced: curve.law.forced,
  parameters: curve.law.parameters.map(({ name, unit, value, standardUncertainty }) => ({
    name,
    value,
    unit,
    standard_uncertainty: standardUncertainty ?? null,
  })),
});

const pointJson = (point: GaugeCurve['points'][number]): CurveJson['points'][number] => ({
  resistance_ohm: point.resistanceOhm,
  reading: point.reading,
  leg: point.leg,
  at_stop: point.atStop,
  u_reading: point.readingUncertainty,
  u_resistance_ohm: point.resistanceUncertaintyOhm,
  supply_V: point.supplyVolt,
  supply_at: point.supplyAt,
  sought: point.isSought,
  fitted: point.fitted,
  residual: point.residual,
  weight: point.weight,
  role: point.role,
});
