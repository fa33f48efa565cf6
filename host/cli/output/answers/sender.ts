import { z } from 'zod';
import { degreesShape, quantityShape, reasonShape, warningsShape, type Looked } from './shared';

const tableRow = z.strictObject({
  kind: z.literal('row'),
  value: z.number(),
  resistance_ohm: z.number(),
  /** Which of the two was asked for; the other carries the uncertainty. */
  from: z.enum(['value', 'resistance']),
  expanded_uncertainty: z.number(),
  expanded_uncertainty_unit: z.string(),
  coverage_factor: z.number(),
  extrapolated: z.boolean(),
});

const workingCurrent = z.strictObject({
  method: z.enum(['flowing', 'still']),
  is_lower_bound: z.boolean(),
  dissipation_mW_per_K: z.number(),
  standard_uncertainty_mW_per_K: z.number(),
  used_mW_per_K: z.number(),
  lowest_mW_per_K: z.number(),
  highest_mW_per_K: z.number(),
  at: z.number(),
  rise: z.number(),
  cold_ohm: z.number(),
  warm_ohm: z.number(),
  power_W: z.number(),
});
export type WorkingCurrentJson = Looked<z.infer<typeof workingCurrent>>;

export const senderAnswers = {
  sender: z.strictObject({
    schema: z.literal('needlewright/sender/1'),
    kind: z.literal('sender'),
    quantity: quantityShape,
    unit: z.string(),
    model: z.enum(['steinhart-hart', 'beta', 'exponential', 'linear', 'polynomial', 'table']),
    model_reason: z.string(),
    coefficients: z.array(
      z.strictObject({
        name: z.string(),
        value: z.number(),
        unit: z.string(),
        standard_uncertainty: z.number().nullable(),
      }),
    ),
    residuals: z.array(
      z.strictObject({
        value: z.number(),
        resistance_ohm: z.number(),
        residual: z.number(),
        residual_ohm: z.number(),
      }),
    ),
    residual_sum_of_squares: z.number(),
    residual_standard_deviation: z.number().nullable(),
    residual_unit: z.string(),
    degrees_of_freedom: degreesShape,
    uncertainty_basis: z.string(),
    beta_25_85_K: z.number().nullable(),
    pairwise_beta: z.array(
      z.strictObject({
        from_C: z.number(),
        to_C: z.number(),
        beta_K: z.number(),
        standard_uncertainty_K: z.number().nullable(),
        plausible: z.boolean(),
      }),
    ),
    known_from: z.number(),
    known_to: z.number(),
    usable_from: z.number(),
    usable_to: z.number(),
    points: z.array(
      z.strictObject({
        value: z.number(),
        resistance_ohm: z.number(),
        u_value: z.number().optional(),
        u_resistance_ohm: z.number().optional(),
      }),
    ),
    table: z.array(tableRow),
    working_current: workingCurrent.optional(),
    unanswered: z.array(reasonShape),
    warnings: warningsShape,
  }),
} as const;
export type SenderTableRow = Looked<z.infer<typeof tableRow>>;
