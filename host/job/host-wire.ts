import { z } from 'zod';
import { count, finite, name, text } from './values';
import { deskMessage } from './wire';

/** What the host is connected to; a simulated box is always named as such. */
export const boxChoice = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('none') }),
  z.strictObject({ kind: z.literal('simulated'), gauge: name }),
  z.strictObject({ kind: z.literal('port'), path: name }),
]);
export type BoxChoice = z.infer<typeof boxChoice>;

export const hostInfo = z.strictObject({
  box: boxChoice,
  /** Gauges the simulated bench can play. */
  simulatedGauges: z.array(name),
  version: name,
});
export type HostInfo = z.infer<typeof hostInfo>;

export const portListing = z.strictObject({
  ports: z.array(z.strictObject({ path: name, title: name, isLikely: z.boolean() })),
  warning: text.optional(),
});
export type PortListing = z.infer<typeof portListing>;

/** One look at the simulated dash, for the drawn dash only: never a measurement, never kept. */
export const dashLook = z.strictObject({
  kind: z.literal('dash'),
  gauge: name,
  angleFraction: finite,
  atMs: finite,
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
