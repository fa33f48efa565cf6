import { z } from 'zod';
import { partShape, placeShape, reasonShape, topologyShape, warningsShape, type Looked } from './shared';

const candidate = z.strictObject({
  topology: topologyShape,
  wiring: z.string(),
  parts: z.array(
    partShape.extend({
      tolerance_percent: z.number(),
      power_W_worst: z.number(),
      power_worst_when: z.string(),
      /** Null where none that is sold carries it. */
      rating_W: z.number().nullable(),
    }),
  ),
  worst_error: z.number(),
  worst_at: z.number(),
  worst_error_anywhere: z.number(),
  worst_weighted_error: z.number(),
  rms_error: z.number(),
  keeps_rule: z.boolean(),
  error_table: z.array(
    z.strictObject({
      true_value: z.number(),
      sender_ohm: z.number(),
      seen_ohm: z.number(),
      indicated: z.number(),
      error: z.number(),
      expanded_uncertainty: z.number(),
      sender_hot_by: z.number().optional(),
      indicated_if_most_heat: z.number().optional(),
      indicated_if_least_heat: z.number().optional(),
    }),
  ),
  failures: z.array(
    z.strictObject({
      place: placeShape,
      resistance_ohm: z.number(),
      fails: z.enum(['open', 'short']),
      needle: z.string(),
      indicated_at_from: z.number(),
      indicated_at_to: z.number(),
      danger: z.boolean(),
      other_parts_W: z.number(),
    }),
  ),
  tolerance: z.strictObject({
    rows: z.array(
      z.strictObject({
        true_value: z.number(),
        sender_share: z.number(),
        part_shares: z.array(z.number()),
        u_from_parts: z.number(),
      }),
    ),
    monte_carlo: z.strictObject({
      trials: z.number(),
      seed: z.number(),
      median_worst_error: z.number(),
      worst_error_95_percent: z.number(),
      keeps_rule_fraction: z.number(),
      parts_standard_deviation: z.number(),
    }),
  }),
  replacement_senders: z.array(
    z.strictObject({
      change_percent: z.number(),
      worst_error: z.number(),
      worst_at: z.number(),
      error_at_from: z.number(),
      error_at_to: z.number(),
      keeps_rule: z.boolean(),
    }),
  ),
  surroundings: z.array(
    z.strictObject({
      says: z.string(),
      largest_shift: z.number(),
      largest_at: z.number(),
      worst_error: z.number(),
    }),
  ),
  power_basis: z.strictObject({
    supply_V: z.number(),
    highest_supply_V: z.number(),
    gauge_ohm: z.number(),
    place: z.string(),
    ambient_C: z.number(),
    assumed: z.array(z.string()),
  }),
  warnings: warningsShape,
});
export type CandidateJson = Looked<z.infer<typeof candidate>>;

/** What was searched: nothing better was left out. */
const certificate = z.strictObject({
  optimal: z.literal(true),
  values_searched: z.string(),
  networks: z.number(),
  evaluated: z.number(),
  best_score: z.number(),
  best_bound: z.number(),
  any_value_bound: z.number(),
  keeps_rule: z.boolean(),
  samples: z.number(),
  topologies: z.array(
    z.strictObject({
      topology: topologyShape,
      networks: z.number(),
      evaluated: z.number(),
      best_score: z.number().nullable(),
    }),
  ),
});
export type CertificateJson = Looked<z.infer<typeof certificate>>;

const end = z.strictObject({ value: z.number(), resistance_ohm: z.number() });

/** What else would do where no resistor helps enough. */
const offers = z.strictObject({
  sender_must_have: z.array(
    z.strictObject({ value: z.number(), least_ohm: z.number().nullable(), most_ohm: z.number().nullable() }),
  ),
  in_circulation: z.array(
    z.strictObject({
      low: end,
      high: end,
      worst_error_alone: z.number(),
      worst_error: z.number(),
      parts: z.array(partShape),
      basis: z.literal('common practice'),
    }),
  ),
  other_feed: z
    .strictObject({
      ratio: z.number(),
      supply_V: z.number().optional(),
      worst_error: z.number(),
      parts: z.array(partShape),
      feeds_tried: z.number(),
    })
    .nullable(),
  dial: z.array(z.strictObject({ value: z.number(), stands_where_now: z.number().nullable() })),
});
export type OffersJson = Looked<z.infer<typeof offers>>;

const heat = z.union([
  z.strictObject({
    counted: z.literal(false),
    because: z.enum(['not-a-temperature-sender', 'circuit-not-known']),
    says: z.string(),
  }),
  z.strictObject({
    counted: z.literal(true),
    lead_V: z.number(),
    lead_ohm: z.number(),
    basis: z.string(),
    dissipation_mW_per_K: z.number(),
    lowest_mW_per_K: z.number(),
    highest_mW_per_K: z.number(),
    at: z.number(),
    rise: z.number(),
    least_rise: z.number(),
    /** Null: without end. */
    most_rise: z.number().nullable(),
    power_W: z.number(),
    says: z.string(),
  }),
]);
export type HeatJson = Looked<z.infer<typeof heat>>;

const advised = { limit: z.number(), says: z.string() };
const advice = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('fits-as-is'),
    isCertain: z.boolean(),
    isHeatLeftOut: z.boolean(),
    ...advised,
  }),
  z.strictObject({
    kind: z.literal('network'),
    brings: z.enum(['inside-the-limit', 'inside-without-heat', 'cannot-be-told', 'a-third-less']),
    isHeatLeftOut: z.boolean(),
    reach: z.strictObject({ at: z.number(), error: z.number(), expandedUncertainty: z.number() }),
    ...advised,
  }),
  z.strictObject({ kind: z.literal('measure-heat'), ...advised }),
  z.strictObject({ kind: z.literal('no-resistor-helps'), ...advised }),
]);

const rule = z.strictObject({
  says: z.string(),
  limit: z.number(),
  danger_weight: z.number(),
  danger_says: z.string().optional(),
});
export type RuleJson = Looked<z.infer<typeof rule>>;

/** What a refused trim tells beside its reason: how near resistors come, and what else would do. */
export const trimRefusedFields = {
  nearest: candidate.optional(),
  without_rule: candidate.optional(),
  offers: offers.optional(),
  certificate: certificate.optional(),
};

export const networkAnswers = {
  trim: z.strictObject({
    schema: z.literal('needlewright/trim/1'),
    kind: z.literal('trim'),
    unit: z.string(),
    from: z.number(),
    to: z.number(),
    rule,
    advice,
    /** Places in `candidates`. */
    recommended: z.number(),
    nearest: z.number(),
    heat,
    candidates: z.array(candidate),
    without_rule: candidate.nullable(),
    offers: offers.nullable(),
    certificate,
    warnings: warningsShape,
  }),
  match: z.strictObject({
    schema: z.literal('needlewright/match/1'),
    kind: z.literal('match'),
    unit: z.string(),
    /** Best first. */
    senders: z.array(
      z.strictObject({
        sender: z.string(),
        model: z.string(),
        worst_error_alone: z.number(),
        worst_error: z.number(),
        topology: topologyShape,
        parts: z.array(partShape),
        keeps_rule: z.boolean(),
        heat: z.strictObject({ counted: z.boolean(), says: z.string() }),
      }),
    ),
    unusable: z.array(z.strictObject({ sender: z.string(), refused: reasonShape })),
    warnings: warningsShape,
  }),
  network: z.strictObject({
    schema: z.literal('needlewright/network/1'),
    solutions: z.array(
      z.strictObject({
        topology: topologyShape,
        wiring: z.string(),
        parts: z.array(partShape),
        seen: z.array(
          z.strictObject({ sender_ohm: z.number(), wanted_ohm: z.number(), seen_ohm: z.number() }),
        ),
      }),
    ),
    middle: z
      .strictObject({
        sender_ohm: z.number(),
        lowest_seen_ohm: z.number(),
        highest_seen_ohm: z.number(),
      })
      .optional(),
  }),
} as const;
