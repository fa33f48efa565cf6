import { z } from 'zod';
import { quantityShape, type Looked } from './shared';

const condition = z
  .strictObject({
    readings: z.number(),
    marks: z.array(
      z.strictObject({
        reading: z.number(),
        resistance_ohm: z.number(),
        expanded_uncertainty_ohm: z.number(),
      }),
    ),
  })
  .nullable();

const clusterFields = {
  kind: z.literal('cluster'),
  cluster: z.string(),
  title: z.string(),
  vehicle: z.string(),
  simulated: z.boolean(),
  feed: z.strictObject({
    volt: z.number().optional(),
    stabiliser: z.string().optional(),
    fuseAmpere: z.number().optional(),
    isBatteryLeadOnBench: z.boolean().optional(),
  }),
  state: z.enum(['as-found', 'as-left']),
  gauges: z.array(z.strictObject({ job: z.string(), place: z.string(), box_serial: z.number().nullable() })),
  /** Null while nobody has measured it. */
  neighbours: z
    .strictObject({
      verdict: z.string(),
      suspect: z.string().nullable(),
      common_ohm: z.number().nullable(),
      cells: z.array(
        z.strictObject({
          moved: z.string(),
          watched: z.string(),
          percent_of_arc: z.number(),
          expanded_uncertainty_percent: z.number(),
          common_ohm: z.number(),
        }),
      ),
    })
    .nullable(),
  swept: z.array(
    z.strictObject({
      order: z.enum(['free', 'rounds', 'one-by-one']),
      minutes: z.number(),
      least_minutes: z.number(),
      readings: z.number(),
      doubted: z.number(),
    }),
  ),
  swept_by_hand: z.array(z.strictObject({ job: z.string(), minutes: z.number(), readings: z.number() })),
};
const cluster = z.strictObject(clusterFields);
export type ClusterJson = Looked<z.infer<typeof cluster>>;

const sheetFields = {
  ...clusterFields,
  conditions: z.array(
    z.strictObject({
      place: z.string(),
      quantity: quantityShape,
      unit: z.string(),
      as_found: condition,
      as_left: condition,
    }),
  ),
};

/** Answers of `cluster`, one an action. */
export const clusterAnswers = {
  'cluster-open': z.strictObject({ schema: z.literal('needlewright/cluster-open/1'), ...clusterFields }),
  'cluster-roll-call': z.strictObject({
    schema: z.literal('needlewright/cluster-roll-call/1'),
    ...clusterFields,
  }),
  'cluster-neighbours': z.strictObject({
    schema: z.literal('needlewright/cluster-neighbours/1'),
    ...clusterFields,
  }),
  'cluster-sweep': z.strictObject({ schema: z.literal('needlewright/cluster-sweep/1'), ...sheetFields }),
  'cluster-sheet': z.strictObject({ schema: z.literal('needlewright/cluster-sheet/1'), ...sheetFields }),
  'cluster-again': z.strictObject({
    schema: z.literal('needlewright/cluster-again/1'),
    ...clusterFields,
    at: z.string(),
  }),
  'cluster-table': z.strictObject({
    schema: z.literal('needlewright/cluster-table/1'),
    kind: z.literal('cluster-table'),
    rows: z.array(
      z.strictObject({
        cluster: z.string(),
        opened: z.string(),
        place: z.string(),
        quantity: quantityShape,
        minutes: z.number().nullable(),
        as_found_percent: z.number().nullable(),
        as_left_percent: z.number().nullable(),
      }),
    ),
  }),
} as const;
