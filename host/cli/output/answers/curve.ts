import { z } from 'zod';
import { lawNames, mechanisms } from '../../../core/curve';
import {
  degreesShape,
  legShape,
  quantityShape,
  stopShape,
  supplyAtShape,
  warningsShape,
  type Looked,
} from './shared';

const noteShape = z.enum(['measured', 'between', 'beyond', 'plateau', 'at stop']);

const budget = z.array(
  z.strictObject({ source: z.string(), u_reading: z.number(), degrees_of_freedom: degreesShape }),
);

const lawTried = z.union([
  z.strictObject({ name: z.enum(lawNames), refused: z.string() }),
  z.strictObject({
    name: z.enum(lawNames),
    residual_standard_deviation: z.number(),
    aicc: z.number(),
    margin: z.number(),
    weight: z.number(),
    contradiction: z.string().nullable(),
  }),
]);

const point = z.strictObject({
  resistance_ohm: z.number(),
  reading: z.number(),
  leg: legShape.optional(),
  at_stop: stopShape.optional(),
  u_reading: z.number().optional(),
  u_resistance_ohm: z.number().optional(),
  supply_V: z.number().optional(),
  supply_at: supplyAtShape.optional(),
  sought: z.boolean().optional(),
  fitted: z.number(),
  residual: z.number(),
  weight: z.number(),
  role: z.enum(['fitted', 'questioned', 'bound']),
});

const mark = z.strictObject({
  reading: z.number(),
  resistance_ohm: z.number(),
  expanded_uncertainty_ohm: z.number(),
  coverage_factor: z.number(),
  from_ohm: z.number(),
  to_ohm: z.number(),
  effective_degrees_of_freedom: degreesShape,
  note: noteShape,
  budget,
});

const legs = z.strictObject({
  pattern: z.enum(['alike', 'sticky', 'warming', 'not compared']),
  difference: z.number(),
  percent_of_span: z.number(),
  pairs: z.number(),
  again: z.array(
    z.strictObject({
      resistance_ohm: z.number(),
      readings: z.array(z.number()),
      doubted: z.array(z.number()),
    }),
  ),
  good: z.strictObject({ from_reading: z.number(), to_reading: z.number() }).optional(),
});

const hysteresis = z.union([
  z.strictObject({ measured: z.literal(false), reason: z.string(), assumed_half: z.number() }),
  z.strictObject({
    measured: z.literal(true),
    largest: z.number(),
    percent_of_span: z.number(),
    at_ohm: z.number(),
    at_reading: z.number(),
    half: z.number(),
    half_standard_uncertainty: z.number(),
    pairs: z.number(),
    largest_single_cycle: z.number().optional(),
    single_cycle_at_ohm: z.number().optional(),
  }),
]);

const supply = z.strictObject({
  reference_V: z.number(),
  exponent: z.number(),
  no_current_reading: z.number().nullable(),
  odds: z.array(z.strictObject({ exponent: z.number(), weight: z.number() })),
  step: z.strictObject({ up_V: z.number(), down_V: z.number() }).nullable(),
  change_12_to_14_V: z.array(z.strictObject({ reading: z.number(), change: z.number() })),
});

const prediction = z.strictObject({
  resistance_ohm: z.number(),
  reading: z.number(),
  expanded_uncertainty: z.number(),
  expanded_uncertainty_of_one_reading: z.number(),
  coverage_factor: z.number(),
  effective_degrees_of_freedom: degreesShape,
  note: noteShape,
  budget,
});

/** The curve of a gauge: of readings in a file, of a sweep, of a card of the catalogue. */
const curveFields = {
  kind: z.literal('curve'),
  quantity: quantityShape,
  unit: z.string(),
  mechanism: z.enum(mechanisms).optional(),
  dial: z
    .strictObject({
      marks: z.array(z.strictObject({ label: z.string(), reading: z.number(), angle_fraction: z.number() })),
      reading_step: z.number().optional(),
    })
    .optional(),
  /** Standard, shared by all readings: a part of the resistance, and ohms. */
  resistance_uncertainty: z.strictObject({ relative: z.number(), ohm: z.number() }),
  law: z.strictObject({
    name: z.enum(lawNames),
    formula: z.string(),
    forced: z.boolean(),
    parameters: z.array(
      z.strictObject({
        name: z.string(),
        value: z.number(),
        unit: z.string(),
        standard_uncertainty: z.number().nullable(),
      }),
    ),
  }),
  laws_tried: z.array(lawTried),
  points: z.array(point),
  marks: z.array(mark),
  legs,
  /** Where the volts were noted and changed. */
  supply: supply.optional(),
  hysteresis,
  repeatability: z.strictObject({
    standard_deviation: z.number(),
    degrees_of_freedom: z.number(),
    source: z.enum(['repeats', 'residuals', 'reading step']),
  }),
  plateaus: z.array(z.strictObject({ from_ohm: z.number(), to_ohm: z.number(), reading: z.number() })),
  stops: z.array(
    z.strictObject({
      side: stopShape,
      reading: z.number(),
      seen_from_ohm: z.number(),
      seen_to_ohm: z.number(),
      reached_at_ohm: z.number().nullable(),
      source: z.enum(['marked', 'inferred']),
    }),
  ),
  predict: z.array(prediction),
  warnings: warningsShape,
};

export const curveShape = z.strictObject(curveFields);
export type CurveJson = Looked<z.infer<typeof curveShape>>;

const sweepFields = {
  schema: z.literal('needlewright/sweep/1'),
  job: z.string(),
  title: z.string(),
  vehicle: z.string(),
  simulated: z.boolean(),
  sweep: z.string(),
  /** How many count. */
  readings: z.number(),
  by_hand: z.boolean().optional(),
  trips: z.array(z.strictObject({ code: z.string(), reason: z.string() })),
};

export const curveAnswers = {
  curve: z.strictObject({ schema: z.literal('needlewright/curve/1'), ...curveFields }),
  /** Without a curve where too little was read. */
  sweep: z.discriminatedUnion('kind', [
    z.strictObject({ kind: z.literal('sweep'), ...sweepFields }),
    z.strictObject({ ...curveFields, ...sweepFields }),
  ]),
} as const;
