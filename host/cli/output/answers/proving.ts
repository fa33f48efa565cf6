import { z } from 'zod';
import { testNames } from '../../../core/diagnosis';
import { decisionRules, pairWords } from '../../../core/proof/decision';
import { mismatchCauses, partingReadings } from '../../../core/proof/mismatch';

const strapRow = z.strictObject({
  needle: z.number(),
  litre: z.number(),
  usable_litre: z.number(),
  u_litre: z.number(),
});

const suspect = z.strictObject({ part: z.string(), cause: z.string() });

/** Answers about what is wrong, and about what was proved. */
export const provingAnswers = {
  proof: z.strictObject({
    schema: z.literal('needlewright/proof/1'),
    kind: z.literal('proof'),
    unit: z.string(),
    rule: z.enum(decisionRules),
    word: z.enum(pairWords),
    proved: z.boolean(),
    missing: z.array(z.enum(['three-places', 'dangerous-end', 'both-ways', 'rest', 'times'])),
    from: z.number(),
    to: z.number(),
    narrowest_limit: z.number(),
    pairs: z.array(
      z.strictObject({
        value: z.number(),
        indicated: z.number(),
        error: z.number(),
        expanded_uncertainty: z.number(),
        lower_limit: z.number(),
        upper_limit: z.number(),
        word: z.enum(pairWords),
        chance_within: z.number(),
      }),
    ),
    re_estimate: z
      .strictObject({
        ohms_ratio: z.number(),
        steepness_ratio: z.number(),
        reference_off: z.number(),
        needle: z.array(
          z.strictObject({ value: z.number(), reading: z.number(), standard_uncertainty: z.number() }),
        ),
        re_trim: z
          .strictObject({
            topology: z.string(),
            parts: z.array(z.strictObject({ place: z.string(), resistance_ohm: z.number() })),
            expected_worst_now: z.number(),
            expected_worst_then: z.number(),
            chance_better: z.number(),
            worth_it: z.boolean(),
          })
          .nullable(),
      })
      .optional(),
    drift: z
      .strictObject({
        moved: z.boolean(),
        places: z.array(z.strictObject({ value: z.number(), score: z.number() })),
      })
      .optional(),
    warnings: z.array(z.string()),
  }),
  chain: z.strictObject({
    schema: z.literal('needlewright/chain/1'),
    kind: z.literal('chain'),
    unit: z.string(),
    fault_remains: z.boolean(),
    worst_score: z.number(),
    pairs: z.array(
      z.strictObject({
        value: z.number(),
        indicated: z.number(),
        predicted: z.number(),
        sender_ohm: z.number(),
        expanded_uncertainty_seen: z.number(),
        expanded_uncertainty_predicted: z.number(),
        score: z.number(),
      }),
    ),
    could_mean: z.array(
      z.strictObject({
        causes: z.array(
          z.strictObject({ cause: z.enum(mismatchCauses), size: z.number(), size_unit: z.string() }),
        ),
        share: z.number(),
        alike: z.array(z.enum(mismatchCauses)),
      }),
    ),
    read_next: z.enum(partingReadings).nullable(),
    warnings: z.array(z.string()),
  }),
  strap: z.strictObject({
    schema: z.literal('needlewright/strap/1'),
    kind: z.literal('strap'),
    filling: z.array(strapRow),
    driving: z.array(strapRow),
    hysteresis: z.number().nullable(),
    dropouts_l: z.array(z.number()),
    unusable_l: z.number(),
    honest_empty: z.strictObject({
      needle: z.number(),
      usable_l: z.number(),
      reserve_l: z.number(),
      chance: z.number(),
      at_lowest: z.boolean(),
    }),
    warnings: z.array(z.string()),
  }),
  overlay: z.strictObject({
    schema: z.literal('needlewright/overlay/1'),
    kind: z.literal('overlay'),
    width_mm: z.number(),
    height_mm: z.number(),
    scale_across: z.number(),
    scale_up: z.number(),
    marks: z.array(z.strictObject({ label: z.string(), degrees: z.number() })),
    svg: z.string(),
  }),
  check: z.strictObject({
    schema: z.literal('needlewright/check/1'),
    kind: z.literal('check'),
    verdict: z.enum(['is', 'most-likely', 'between', 'no-circuit']),
    sentence: z.string(),
    named: z.array(suspect),
    suspects: z.array(suspect),
    next: z
      .strictObject({
        test: z.enum(testNames),
        why: z.enum(['tells-most', 'proves', 'read-again', 'third-reading', 'sign']),
        minutes: z.number(),
        unit: z.string(),
        load_ohm: z.number().nullable(),
        how: z.string(),
        expects: z.array(
          z.strictObject({ part: z.string(), low: z.number(), middle: z.number(), high: z.number() }),
        ),
      })
      .nullable(),
    others: z.array(z.strictObject({ test: z.enum(testNames), minutes: z.number() })),
    evidence: z.array(
      z.strictObject({
        test: z.enum(testNames),
        value: z.number(),
        unit: z.string(),
        readings: z.number(),
        weight: z.enum(['strong', 'some', 'little', 'against']),
        sound_gives: z.number(),
      }),
    ),
    unproved: z.array(z.array(z.enum(testNames))),
    not_looked_at: z.array(z.enum(testNames)),
    is_positive_ground: z.boolean(),
    minutes: z.number(),
    simulated: z
      .strictObject({
        faults: z.array(z.string()),
        worth_percent: z.number(),
        readings: z.array(z.strictObject({ test: z.enum(testNames), value: z.number() })),
      })
      .optional(),
  }),
} as const;
