import { z } from 'zod';
import { degreesShape, type Looked } from './shared';

const interval = z.strictObject({ from: z.number(), to: z.number() });

const monteCarlo = z.strictObject({
  draws: z.number(),
  seed: z.number(),
  mean: z.number(),
  standard_deviation: z.number(),
  mean_standard_error: z.number(),
  shortest: interval,
  symmetric: interval,
  /** Null where the first-order method has no answer to compare with. */
  gum_validated: z.boolean().nullable(),
});
export type MonteCarloJson = Looked<z.infer<typeof monteCarlo>>;

/** Answers about water and about uncertainty. */
export const figureAnswers = {
  boil: z.strictObject({
    schema: z.literal('needlewright/boil/1'),
    pressure_hPa: z.number(),
    temperature_C: z.number(),
    temperature_F: z.number(),
    sensitivity_K_per_hPa: z.number(),
    /** Null where a pressure was given. */
    sensitivity_K_per_m: z.number().nullable(),
    standard_uncertainty_K: z.number(),
    expanded_uncertainty_K: z.number(),
    coverage_factor: z.literal(2),
    contributions: z.array(z.strictObject({ name: z.string(), standard_uncertainty_K: z.number() })),
  }),
  budget: z.strictObject({
    schema: z.literal('needlewright/budget/1'),
    name: z.string(),
    unit: z.string(),
    value: z.number(),
    combined_standard_uncertainty: z.number(),
    effective_degrees_of_freedom: degreesShape,
    /** These three are left out where only a simulation has an answer. */
    degrees_of_freedom_used: degreesShape.optional(),
    probability: z.number().optional(),
    components: z
      .array(
        z.strictObject({
          name: z.string(),
          value: z.number(),
          distribution: z.enum(['normal', 'rectangular', 'triangular', 'arcsine', 'student-t']),
          standard_uncertainty: z.number(),
          degrees_of_freedom: degreesShape,
          sensitivity: z.number(),
          contribution: z.number(),
          variance_share: z.number(),
        }),
      )
      .optional(),
    coverage_factor: z.number().nullable(),
    expanded_uncertainty: z.number().nullable(),
    monte_carlo: monteCarlo.optional(),
    warnings: z.array(z.string()).optional(),
  }),
} as const;
