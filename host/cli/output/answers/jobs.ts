import { z } from 'zod';
import { decisionRules } from '../../../core/proof/decision';
import { stations } from '../../../job';
import { photographSubjects } from '../../../job/schema/photograph-subjects';
import { plotSubjects } from '../../../record/plot-file';
import { legShape, topologyShape, warningsShape, type Looked } from './shared';

const verdict = z.enum(['within', 'outside', 'cannot-tell']);
const ground = z.enum(['measured', 'between', 'beyond', 'plateau', 'at stop']);

const proof = z.strictObject({
  fitted: z.enum(['network', 'nothing']).nullable(),
  limit: z.number(),
  verdict: verdict.nullable(),
  missing: z.array(
    z.enum(['three-places', 'fitted', 'normal-running', 'dangerous-end', 'both-ways', 'fresh-pair']),
  ),
  remarks: z.array(z.string()),
  pairs: z.array(
    z.strictObject({
      state: z.enum(['as-found', 'as-left']),
      method: z.enum(['run', 'substituted']).nullable(),
      reference: z.number(),
      indicated: z.number(),
      leg: legShape,
      error: z.number(),
      expanded_uncertainty: z.number().nullable(),
      verdict: verdict.nullable(),
      probability_within: z.number().nullable(),
      proves_nothing: z.string().nullable(),
      substitute_ohm: z.number().nullable(),
    }),
  ),
});
export type JobProofJson = Looked<z.infer<typeof proof>>;

const wanted = z.strictObject({
  mark: z.string(),
  reading: z.number(),
  resistance_ohm: z.number().nullable(),
  expanded_uncertainty_ohm: z.number().nullable(),
  note: z.enum([...ground.options, 'unreached']),
});
export type WantedJson = Looked<z.infer<typeof wanted>>;

const fact = z.strictObject({ name: z.string(), value: z.string() });
const facts = z.array(fact);
const sentences = z.array(z.string());

/** The record as data: figures in the unit that is shown. */
const record = z.strictObject({
  schema: z.literal('needlewright/record/1'),
  jobId: z.string(),
  title: z.string(),
  simulated: z.boolean(),
  program: z.string(),
  journal: z.strictObject({ entries: z.number(), sha256: z.string() }),
  unit: z.string(),
  quantity: z.string(),
  firstDay: z.string(),
  lastDay: z.string(),
  particulars: facts,
  shop: z.string().optional(),
  vehicle: z.string(),
  customer: z.string().optional(),
  found: z.strictObject({
    sign: z.enum([...verdict.options, 'open', 'refused']),
    sentence: z.string(),
    more: sentences,
    dangers: sentences,
  }),
  marks: z.array(
    z.strictObject({
      label: z.string(),
      reading: z.number(),
      resistanceOhm: z.number().optional(),
      expandedUncertaintyOhm: z.number().optional(),
      coverageFactor: z.number().optional(),
      ground: ground.optional(),
      senderOhm: z.number().optional(),
    }),
  ),
  law: z.string().optional(),
  budget: z.array(
    z.strictObject({
      source: z.string(),
      curve: z.number().optional(),
      proof: z.number().optional(),
      kind: z.enum(['part', 'combined', 'factor', 'expanded']),
    }),
  ),
  budgetAt: z.string().optional(),
  readings: z.array(
    z.strictObject({
      number: z.number(),
      leg: legShape,
      resistanceOhm: z.number(),
      reading: z.number(),
      residual: z.number().optional(),
      struckBecause: z.string().optional(),
    }),
  ),
  pairs: z.array(
    z.strictObject({
      state: z.string(),
      way: z.string(),
      reference: z.number(),
      referenceUncertainty: z.number().optional(),
      referencePlace: z.string().optional(),
      indicated: z.number(),
      error: z.number(),
      expandedUncertainty: z.number().optional(),
      verdict: verdict.optional(),
      provesNothing: z.string().optional(),
      struckBecause: z.string().optional(),
      day: z.string(),
      by: z.string(),
    }),
  ),
  limit: z.number(),
  limitWords: z.string(),
  rule: z.enum(decisionRules),
  parts: sentences,
  fitted: z.string().optional(),
  failures: z.array(z.strictObject({ part: z.string(), needle: z.string(), danger: z.string().optional() })),
  whatIf: facts,
  ways: facts,
  senders: z.array(
    z.strictObject({
      title: z.string(),
      about: sentences,
      points: z.array(z.strictObject({ value: z.string(), resistance: z.string() })),
    }),
  ),
  checks: facts,
  notAsked: sentences,
  said: sentences,
  method: z.string(),
  instruments: facts,
  notes: sentences,
  adjustments: sentences,
  struck: sentences,
  photographs: z.array(
    z.strictObject({
      photographId: z.string(),
      title: z.string(),
      file: z.string(),
      sha256: z.string(),
    }),
  ),
  sheets: z.number(),
  /** Files that were written. */
  written: z.array(z.string()),
});

/** Answers about one job and its record. */
export const jobAnswers = {
  job: z.strictObject({
    schema: z.literal('needlewright/job/1'),
    kind: z.literal('job'),
    job: z.string(),
    title: z.string(),
    vehicle: z.string(),
    simulated: z.boolean(),
    events: z.number(),
    headlines: z.array(z.strictObject({ station: z.enum(stations), done: z.boolean(), text: z.string() })),
    wanted_ohm: z.array(wanted),
    trim_chosen: z
      .strictObject({
        topology: topologyShape,
        parts: z.array(z.strictObject({ place: z.string(), resistance_ohm: z.number() })),
        worst_error: z.number(),
        chosen_n: z.number().nullable(),
      })
      .nullable(),
    proof,
  }),
  'job-export': z.strictObject({
    schema: z.literal('needlewright/job-export/1'),
    kind: z.literal('job-exported'),
    file: z.string(),
    events: z.number(),
    bytes: z.number(),
  }),
  'job-import': z.strictObject({
    schema: z.literal('needlewright/job-import/1'),
    kind: z.literal('job-imported'),
    job: z.string(),
    job_id: z.string(),
  }),
  'job-photograph': z.strictObject({
    schema: z.literal('needlewright/job-photograph/1'),
    kind: z.literal('photograph-added'),
    job: z.string(),
    /** Null where the job had it already. */
    photograph_id: z.string().nullable(),
    file: z.string().nullable(),
    of: z.enum(photographSubjects),
  }),
  record,
  'record-verify': z.strictObject({
    schema: z.literal('needlewright/record-verify/1'),
    kind: z.literal('record-verified'),
    belongs: z.literal(true),
    entries: z.number(),
    sum: z.string(),
    /** Null where that cannot be told. */
    same_file: z.boolean().nullable(),
    since: z.array(z.strictObject({ kind: z.string(), count: z.number() })),
  }),
  plot: z.strictObject({
    schema: z.literal('needlewright/plot/1'),
    of: z.enum(plotSubjects),
    written: z.string().nullable(),
    svg: z.string(),
    warnings: warningsShape,
  }),
} as const;
