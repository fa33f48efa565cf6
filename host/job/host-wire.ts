import { z } from 'zod';
import { mark, mechanism, quantity } from './gauge';
import { count, finite, name, text } from './values';
import { deskMessage } from './wire';

/** What the host is connected to; a simulated box is always named as such. */
export const boxChoice = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('none') }),
  z.strictObject({ kind: z.literal('simulated'), gauge: name }),
  z.strictObject({ kind: z.literal('port'), path: name }),
]);
export type BoxChoice = z.infer<typeof boxChoice>;

const senderTable = z.array(z.object({ value: finite, ohm: finite }));

/** A vehicle the simulated bench can play, as its program describes it: what is printed on the dial, which senders. */
export const simulatedGauge = z.object({
  name,
  title: name,
  quantity,
  unit: name,
  mechanism,
  terminals: z.union([z.literal(2), z.literal(3)]),
  marks: z.array(mark),
  /** The sender that the dial was drawn for. */
  originalSender: senderTable,
  /** A sender that was fitted later and reads wrong. */
  replacementSender: senderTable,
});
export type SimulatedGauge = z.infer<typeof simulatedGauge>;

/** What a person may do to the simulated world from the page; a real bench has no such door. */
export const worldChange = z.strictObject({
  bath: z
    .union([
      z.literal('off'),
      z.strictObject({ sender: z.enum(['original', 'replacement']), holdAt: finite.optional() }),
    ])
    .optional(),
  lights: z.boolean().optional(),
});
export type WorldChange = z.infer<typeof worldChange>;

export const hostInfo = z.strictObject({
  box: boxChoice,
  /** Empty when the simulated box is not built. */
  simulatedGauges: z.array(simulatedGauge),
  version: name,
});
export type HostInfo = z.infer<typeof hostInfo>;

export const portListing = z.strictObject({
  ports: z.array(z.strictObject({ path: name, title: name, isLikely: z.boolean() })),
  warning: text.optional(),
});
export type PortListing = z.infer<typeof portListing>;

/** One look at the simulated dash, for the drawn dash only: never a measurement, never kept. */
const dashLook = z.strictObject({
  kind: z.literal('dash'),
  gauge: name,
  angleFraction: finite,
  atMs: finite,
  /** Shown beside a sender in the simulated bath. */
  thermometer: finite.optional(),
});
export type DashLook = z.infer<typeof dashLook>;

/** Everything the host sends on a screen's socket. */
export const hostMessage = z.union([
  deskMessage,
  dashLook,
  /** Another box, or none, was chosen on some screen. */
  z.strictObject({ kind: z.literal('box'), box: boxChoice }),
  /** What the screen sent was not understood; the connection stays. */
  z.strictObject({ kind: z.literal('misread'), message: text, id: count.optional() }),
]);
export type HostMessage = z.infer<typeof hostMessage>;
