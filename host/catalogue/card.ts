import { z } from 'zod';
import { leg, mechanism, quantity, stopEnd, supplyAt } from '../job';
import {
  angleFraction,
  count,
  finite,
  name,
  notNegative,
  positive,
  resistanceOhm,
  text,
} from '../job/schema/values';

/** Raised only when an old program could misread a new card. */
export const CARD_SCHEMA = 'needlewright/card/1';

/** No sweep and no bath yields more; what is longer is no card. */
export const MOST_POINTS = 2_000;
const MOST_MARKS = 60;

/** Field names of documents are for other programs too: units at their end, words apart. */
const gaugePoint = z.strictObject({
  resistance_ohm: resistanceOhm,
  reading: finite,
  leg: leg.optional(),
  at_stop: stopEnd.optional(),
  /** Standard uncertainty of the reading, in the unit of the card. */
  u_reading: notNegative.optional(),
  /** Standard uncertainty of the resistance. */
  u_ohm: notNegative.optional(),
  supply_V: finite.optional(),
  supply_at: supplyAt.optional(),
  current_mA: finite.optional(),
  waited_s: notNegative.optional(),
  /** `seek`: the needle was walked onto this reading; `typed`: somebody wrote the pair down. */
  method: z.enum(['step', 'seek', 'typed']).optional(),
  /** Why it does not count. */
  struck: text.optional(),
});

const senderPoint = z.strictObject({
  value: finite,
  resistance_ohm: resistanceOhm,
  u_value: notNegative.optional(),
  u_ohm: notNegative.optional(),
  struck: text.optional(),
});

const mark = z.strictObject({ label: name, reading: finite, angle_fraction: angleFraction });

const conditions = z.strictObject({
  place: z.enum(['car', 'bench']).optional(),
  dash_C: finite.optional(),
  /** Gauges on the same feed while this one was read. */
  neighbours: count.optional(),
});

const instrument = z.strictObject({
  box_serial: count.optional(),
  calibration_id: count.optional(),
  /** Days since 1970-01-01, as the box keeps it. */
  calibration_day: count.optional(),
  firmware: name.optional(),
  meter: name.optional(),
});

/** What nobody wants published, and what may travel. */
export const licence = z.enum(['private', 'shared-by-name', 'CC0', 'CC-BY']);
export type Licence = z.infer<typeof licence>;

const common = {
  schema: z.literal(CARD_SCHEMA),
  quantity,
  /** As the dial or the bath is marked: "degC", "%", "kPa"; empty where nobody said. */
  unit: z.union([name, z.literal('')]),
  /** What the part is called, in free words: found again by them. Nothing private belongs here. */
  description: text.optional(),
  conditions: conditions.optional(),
  instrument: instrument.optional(),
  references: z
    .array(z.strictObject({ id: name, u: notNegative }))
    .max(20)
    .optional(),
  found: z.enum(['as-found', 'as-left']).optional(),
  measured_at: z.iso.datetime().optional(),
  by: z.enum(['person', 'simulated-person']).optional(),
  made_from: z
    .strictObject({
      /** SHA-256 of the journal's first line: the job, however long its journal grows. */
      job: z
        .string()
        .regex(/^[0-9a-f]{64}$/)
        .optional(),
      file: name.optional(),
      program: name,
    })
    .optional(),
  licence,
  /** Nothing was measured: a simulated gauge or box stood in. */
  simulated: z.boolean(),
  /** Part of the catalogue that comes along to try things with. */
  demo: z.literal(true).optional(),
};

const gaugeCard = z.strictObject({
  ...common,
  kind: z.literal('gauge'),
  marks: z.array(mark).min(2).max(MOST_MARKS).optional(),
  division: positive.optional(),
  mechanism: mechanism.optional(),
  terminals: z.union([z.literal(2), z.literal(3)]).optional(),
  family_ohm: z.strictObject({ low_end: resistanceOhm, high_end: resistanceOhm }).optional(),
  /** What all resistances share, as standard uncertainty: a part of them, and ohms. */
  ohms_shared: z.strictObject({ relative: notNegative, ohm: notNegative }).optional(),
  points: z.array(gaugePoint).min(1).max(MOST_POINTS),
});

const senderCard = z.strictObject({
  ...common,
  kind: z.literal('sender'),
  points: z.array(senderPoint).min(1).max(MOST_POINTS),
});

/** One measured curve of one specimen: raw readings, never a fit, so that a better program does not rename old data. */
export const card = z.discriminatedUnion('kind', [gaugeCard, senderCard]);
export type Card = z.infer<typeof card>;
export type GaugeCard = z.infer<typeof gaugeCard>;
export type SenderCard = z.infer<typeof senderCard>;
