import { z } from 'zod';
import { mark, mechanism, quantity } from '../schema/gauge';
import { clusterEvent } from '../schema/cluster-events';
import { count, finite, folderName, name, text } from '../schema/values';
import { clusterFrame } from './cluster-messages';
import { jobMessage, deviceName } from './job-messages';

/** As many boxes as a host serves at once: a cluster's gauges. */
export const MOST_BOXES = 4;

/** What the host is connected to; a simulated box is always named as such. */
export const boxChoice = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('none') }),
  z.strictObject({ kind: z.literal('simulated'), gauge: name }),
  z.strictObject({ kind: z.literal('port'), path: name }),
  z.strictObject({ kind: z.literal('ports'), paths: z.array(name).min(2).max(MOST_BOXES) }),
  z.strictObject({
    kind: z.literal('simulated-cluster'),
    cluster: name,
    boxCount: z.number().int().min(1).max(MOST_BOXES),
  }),
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

/** Several gauges in one housing that the simulated boxes can stand at, as their program describes them. */
export const simulatedCluster = z.object({
  name,
  title: name,
  gauges: z.array(z.object({ place: name, gauge: simulatedGauge })),
});
export type SimulatedCluster = z.infer<typeof simulatedCluster>;

export type HostInfo = {
  readonly box: z.infer<typeof boxChoice>;
  readonly simulatedClusters: SimulatedCluster[];
  /** Empty when the simulated box is not built. */
  readonly simulatedGauges: z.infer<typeof simulatedGauge>[];
  readonly version: string;
};

export type PortListing = {
  readonly ports: { readonly path: string; readonly title: string; readonly isLikely: boolean }[];
  readonly warning?: string | undefined;
};

/** `watch`: sees everything, changes nothing, may stop. `operate`: whatever a person at the host may do. */
export const right = z.enum(['watch', 'operate']);
export type Right = z.infer<typeof right>;

/** What every page of this host carries from its load. */
export type Greeting = {
  readonly build: string;
  /** Lets this page stop every box, whatever else it may do. */
  readonly stopToken: string;
  /** Left out: this device is not paired yet. */
  readonly right?: Right;
  /** How this device is called; left out on the host itself. */
  readonly device?: string;
  /** This page is on the host's own machine: it may let devices in. */
  readonly isHost: boolean;
  readonly isLan: boolean;
};

/** From a device that wants to be let in: the six digits, or the token of the QR code. */
export const pairRequest = z.union([
  z.strictObject({ code: z.string().regex(/^\d{6}$/, 'must be six digits'), name: deviceName }),
  z.strictObject({ token: name, name: deviceName }),
]);

export const pairingOrder = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('open'), right }),
  z.strictObject({ kind: z.literal('close') }),
]);
export type PairingOrder = z.infer<typeof pairingOrder>;

/** What the page on the host shows to the person who lets a device in. */
export type PairingView =
  | { readonly kind: 'closed' }
  | {
      readonly kind: 'open';
      readonly right: Right;
      readonly code: string;
      readonly leftMs: number;
      /** After too many wrong codes nobody is let in for so long. */
      readonly pausedMs: number;
      /** Addresses of this host for another device, each with its QR code as SVG. */
      readonly places: readonly { readonly address: string; readonly qrSvg: string }[];
    };

export const deviceOrder = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('right'), right }),
  z.strictObject({ kind: z.literal('remove') }),
]);
export type DeviceOrder = z.infer<typeof deviceOrder>;

export type DeviceListing = {
  readonly devices: readonly {
    readonly id: string;
    readonly name: string;
    readonly right: Right;
    readonly pairedAt: string;
    readonly expiresAt: string;
  }[];
};

/** One look at the simulated dash, for the drawn dash only: never a measurement, never kept. */
const dashLook = z.strictObject({
  kind: z.literal('dash'),
  gauge: name,
  /** Where it sits in a cluster; left out: it is the only one. */
  place: name.optional(),
  angleFraction: finite,
  atMs: finite,
  /** Shown beside a sender in the simulated bath. */
  thermometer: finite.optional(),
});
export type DashLook = z.infer<typeof dashLook>;

/** Everything the host sends on a screen's socket. */
export const hostMessage = z.union([
  jobMessage,
  z.strictObject({
    kind: z.literal('cluster-events'),
    clusterId: folderName,
    events: z.array(clusterEvent),
  }),
  z.strictObject({ kind: z.literal('cluster-live'), frame: clusterFrame }),
  dashLook,
  /** Answers the screen's hello, and again when its right has changed. `by`: the name the host signs for it. */
  z.strictObject({ kind: z.literal('welcome'), build: name, by: name, right }),
  /** Another box, or none, was chosen on some screen. */
  z.strictObject({ kind: z.literal('box'), box: boxChoice }),
  /** What the screen sent was not understood; the connection stays. */
  z.strictObject({ kind: z.literal('misread'), message: text, id: count.optional() }),
]);
export type HostMessage = z.infer<typeof hostMessage>;
