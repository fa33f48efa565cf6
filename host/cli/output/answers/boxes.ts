import { z } from 'zod';
import { reasonShape } from './shared';

const schema = z.literal('needlewright/watch/1');
const dated = { calibration_id: z.number() };

/** Answers about boxes and their lines; `hold` and `watch` answer in one object a line. */
export const boxAnswers = {
  ports: z.strictObject({
    schema: z.literal('needlewright/ports/1'),
    ports: z.array(
      z.strictObject({
        path: z.string(),
        can_be_box: z.boolean(),
        vendor_id: z.string().nullable(),
        product_id: z.string().nullable(),
        serial_number: z.string().nullable(),
        manufacturer: z.string().nullable(),
      }),
    ),
    boxes: z.array(
      z.strictObject({
        path: z.string(),
        box_serial: z.number().nullable(),
        trouble: z.string().nullable(),
      }),
    ),
  }),
  calibrate: z.strictObject({
    schema: z.literal('needlewright/calibrate/1'),
    kind: z.literal('calibration'),
    simulated: z.boolean(),
    box_serial: z.number(),
    firmware: z.string(),
    ...dated,
    made_on: z.string().nullable(),
    valid_until: z.string().nullable(),
    largest_step_ohm: z.number(),
    previous: z.strictObject({ ...dated, made_on: z.string(), valid_until: z.string() }).nullable(),
    rows: z.array(
      z.strictObject({
        part: z.string(),
        printed_ohm: z.number().nullable(),
        previous_ohm: z.number().nullable(),
        resistance_ohm: z.number(),
        standard_uncertainty_ohm: z.number(),
      }),
    ),
    standard: z.array(
      z.strictObject({
        current_mA: z.number(),
        measured_ohm: z.number(),
        standard_uncertainty_ohm: z.number(),
        deviation_percent: z.number(),
      }),
    ),
  }),
  hold: z.discriminatedUnion('kind', [
    z.strictObject({
      schema: z.literal('needlewright/hold/1'),
      kind: z.literal('armed'),
      limits_of: z.enum(['thermal', 'magnetic', 'electronic', 'unknown', 'fuel']),
      open_circuit_V: z.number(),
    }),
    z.strictObject({
      schema: z.literal('needlewright/hold/1'),
      kind: z.literal('made'),
      limiter_in_path: z.boolean(),
      made_ohm: z.number(),
      standard_uncertainty_ohm: z.number(),
    }),
    z.strictObject({
      schema: z.literal('needlewright/hold/1'),
      kind: z.literal('look'),
      state: z.string(),
      contact_mask: z.number(),
      terminal_V: z.number().nullable(),
      current_mA: z.number().nullable(),
      measured_ohm: z.number().nullable(),
    }),
  ]),
  watch: z.discriminatedUnion('kind', [
    z.strictObject({
      schema,
      kind: z.literal('frame'),
      direction: z.enum(['out', 'in']),
      name: z.string(),
      sequence: z.number(),
      /** As the protocol names them, units in their names. */
      fields: z.record(z.string(), z.number()),
      atMs: z.number(),
    }),
    z.strictObject({ schema, kind: z.literal('frame-damaged'), code: z.string(), atMs: z.number() }),
    z.strictObject({
      schema,
      kind: z.literal('state'),
      state: z.enum(['closed', 'opening', 'greeting', 'live', 'silent', 'failed']),
      reason: reasonShape.optional(),
    }),
    z.strictObject({ schema, kind: z.literal('tripped'), fields: z.record(z.string(), z.number()) }),
    z.strictObject({
      schema,
      kind: z.literal('restarted'),
      greeting: z.record(z.string(), z.number()),
      isOtherBox: z.boolean(),
    }),
  ]),
  serve: z.strictObject({
    schema: z.literal('needlewright/serve/1'),
    kind: z.literal('serving'),
    url: z.string(),
  }),
} as const;
