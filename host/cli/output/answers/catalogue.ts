import { z } from 'zod';
import { mechanisms } from '../../../core/curve';
import { licence } from '../../../catalogue';
import { card } from '../../../catalogue/card';
import { slip } from '../../../catalogue/statement';
import { curveShape } from './curve';
import { quantityShape, type Looked } from './shared';

const kind = z.enum(['gauge', 'sender']);

const entryFields = {
  id: z.string(),
  sha256: z.string(),
  kind,
  quantity: quantityShape,
  unit: z.string(),
  description: z.string().nullable(),
  mechanism: z.enum(mechanisms).nullable(),
  model: z.string().nullable(),
  also_called: z.array(z.string()),
  specimen: z.string(),
  found: z.enum(['as-found', 'as-left']).nullable(),
  measured_at: z.string().nullable(),
  points: z.number(),
  licence,
  simulated: z.boolean(),
  demo: z.boolean(),
  withdrawn_because: z.string().nullable(),
  superseded_by: z.string().nullable(),
  /** These five once it was worked out. */
  law: z.string().optional(),
  low_end_ohm: z.number().nullable().optional(),
  high_end_ohm: z.number().nullable().optional(),
  measured_from: z.number().optional(),
  measured_to: z.number().optional(),
  worked_out: z.string(),
};
const entry = z.strictObject(entryFields);
export type EntryJson = Looked<z.infer<typeof entry>>;

const leftOut = z.array(z.strictObject({ file: z.string(), row: z.number().nullable(), why: z.string() }));

const kept = z.strictObject({
  id: z.string(),
  sha256: z.string(),
  file: z.string(),
  new: z.boolean(),
  what: z.string(),
  points: z.number(),
  found: z.string().nullable(),
  simulated: z.boolean(),
});

const range = z.strictObject({ from: z.number(), to: z.number() });

const line = z.strictObject({
  label: z.string(),
  at: z.number(),
  specimens: z.number(),
  middle: z.number(),
  spread: z.number(),
  next_95: range,
  next_95_together: range,
  tolerance_95_95: range.nullable(),
  tolerance_95_95_one_sided: z
    .strictObject({ side: z.enum(['at-least', 'at-most']), reading: z.number() })
    .nullable(),
  cochran_q: z.number(),
});
export type ModelLineJson = Looked<z.infer<typeof line>>;

const said = { message: z.string() };
const against = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('too-wide'), chance: z.number(), usual: z.number(), ...said }),
  z.strictObject({
    kind: z.literal('two-groups'),
    low: z.array(z.string()),
    high: z.array(z.string()),
    ...said,
  }),
  z.strictObject({ kind: z.literal('apart'), id: z.string(), ...said }),
]);

const pair = <Each extends z.ZodType>(each: Each) => z.tuple([each, each]);

/** Cards of one part that contradict each other, older first. */
const disagree = z.array(
  z.strictObject({
    kind,
    cards: pair(z.string()),
    /** Where it is clearest: ohms of a gauge, the value of a sender. */
    at: z.number(),
    /** Readings of a gauge, ohms of a sender. */
    shows: pair(z.number()),
    explained: z.number(),
    unit: z.string(),
    message: z.string(),
  }),
);
export type DisagreeJson = Looked<z.infer<typeof disagree>>;

const signer = { signer: z.string() };
const signed = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('unsigned') }),
  z.strictObject({ kind: z.literal('broken'), ...signer }),
  z.strictObject({ kind: z.literal('own'), ...signer }),
  z.strictObject({ kind: z.literal('unknown'), ...signer }),
  z.strictObject({ kind: z.literal('known'), ...signer, name: z.string() }),
]);

const identified = {
  schema: z.literal('needlewright/identify/1'),
  kind: z.literal('identification'),
  of: kind,
};
const IMPORT = z.literal('needlewright/catalogue-import/1');

/** Answers of `catalogue`, one an action, and of `identify`. */
export const catalogueAnswers = {
  identify: z.union([
    /** Among the models of the catalogue. */
    z.strictObject({
      ...identified,
      verdict: z.string(),
      ranking: z.array(
        z.strictObject({
          names: z.array(z.string()),
          probability: z.number(),
          cards: z.array(z.string()),
        }),
      ),
      none: z.strictObject({ probability: z.number(), prior: z.number() }),
      next: z
        .strictObject({
          at: z.number(),
          unit: z.string(),
          bits: z.number(),
          expected: z.array(z.strictObject({ name: z.string(), value: z.number() })),
        })
        .nullable(),
      not_worked_out: z.number(),
    }),
    /** Among files (--known). */
    z.strictObject({
      ...identified,
      verdict: z.enum(['clear', 'open', 'none']),
      odds: z.number().nullable(),
      ranking: z.array(
        z.strictObject({
          id: z.string(),
          probability: z.number(),
          chi_squared: z.number(),
          points: z.number(),
          contradicted: z.boolean(),
          extrapolated_points: z.number(),
          shared_shift: z.number(),
        }),
      ),
      next: z
        .strictObject({
          at: z.number(),
          first_expects: z.number(),
          second_expects: z.number(),
          expected_gain: z.number(),
        })
        .nullable(),
    }),
  ]),
  'catalogue-add': z.strictObject({
    schema: z.literal('needlewright/catalogue-add/1'),
    cards: z.array(kept),
    left_out: leftOut,
  }),
  'catalogue-list': z.strictObject({
    schema: z.literal('needlewright/catalogue-list/1'),
    cards: z.array(entry),
    simulated_left_out: z.number(),
  }),
  'catalogue-show': z.strictObject({
    schema: z.literal('needlewright/catalogue-show/1'),
    ...entryFields,
    card,
    slip: slip.nullable(),
    signed,
    /** Of a gauge; null where no law fits. */
    curve: curveShape.nullable().optional(),
    disagree,
  }),
  'catalogue-find': z.strictObject({
    schema: z.literal('needlewright/catalogue-find/1'),
    found: z.number(),
    cards: z.array(entry.extend({ score: z.number(), matched: z.array(z.string()) })),
  }),
  'catalogue-model': z.strictObject({
    schema: z.literal('needlewright/catalogue-model/1'),
    model: z.string(),
    also_called: z.array(z.string()),
    specimens: z.array(entry),
    counted: z.number(),
    unit: z.string().nullable(),
    usual_spread: z.number().nullable(),
    usual_spread_from_models: z.number(),
    marks: z.array(line),
    against: z.array(against),
    disagree,
    simulated_left_out: z.number(),
  }),
  'catalogue-same': z.strictObject({
    schema: z.literal('needlewright/catalogue-same/1'),
    cards: z.array(z.string()),
    disagree,
  }),
  'catalogue-apart': z.strictObject({
    schema: z.literal('needlewright/catalogue-apart/1'),
    cards: z.array(z.string()),
  }),
  'catalogue-withdraw': z.strictObject({
    schema: z.literal('needlewright/catalogue-withdraw/1'),
    id: z.string(),
    reason: z.string(),
  }),
  'catalogue-export': z.strictObject({
    schema: z.literal('needlewright/catalogue-export/1'),
    file: z.string(),
    cards: z.number(),
    statements: z.number(),
    bytes: z.number(),
    private: z.number(),
    demo_left_out: z.number(),
  }),
  'catalogue-import': z.union([
    /** Of files with curves; the second where nothing was kept (--dry-run). */
    z.strictObject({ schema: IMPORT, cards: z.array(kept), left_out: leftOut }),
    z.strictObject({
      schema: IMPORT,
      dry_run: z.literal(true),
      cards: z.array(z.strictObject({ file: z.string(), kind, quantity: quantityShape, points: z.number() })),
      left_out: leftOut,
    }),
    /** Of what `export` wrote. */
    z.strictObject({
      schema: IMPORT,
      dry_run: z.boolean(),
      new: z.number(),
      known: z.number(),
      left_out: leftOut,
    }),
  ]),
  'catalogue-sync': z.strictObject({
    schema: z.literal('needlewright/catalogue-sync/1'),
    pulled: z.number(),
    pushed: z.number(),
    left_out: z.array(z.string()),
  }),
  'catalogue-keys': z.strictObject({
    schema: z.literal('needlewright/catalogue-keys/1'),
    own: z.string(),
    shops: z.array(z.strictObject({ key: z.string(), name: z.string() })),
  }),
  'catalogue-rebuild': z.strictObject({
    schema: z.literal('needlewright/catalogue-rebuild/1'),
    cards: z.number(),
    without_curve: z.number(),
  }),
  'catalogue-verify': z.strictObject({
    schema: z.literal('needlewright/catalogue-verify/1'),
    documents: z.number(),
    fitted: z.number(),
    faults: z.array(z.string()),
  }),
  'catalogue-erase-slip': z.strictObject({
    schema: z.literal('needlewright/catalogue-erase-slip/1'),
    id: z.string(),
    erased: z.literal(true),
  }),
  'catalogue-demo': z.strictObject({
    schema: z.literal('needlewright/catalogue-demo/1'),
    documents: z.number(),
    removed: z.boolean(),
  }),
} as const;
