import { z } from 'zod';
import { sweepOrder } from '../schema/cluster-commands';
import { count, finite, folderName, name, text } from '../schema/values';
import type { GaugeCondition } from '../state/cluster-sheet';

/** What is done with a cluster's gauges together at this moment. */
const doing = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('nothing') }),
  z.strictObject({
    kind: z.literal('roll-call'),
    called: count,
    of: count,
    /** The box that moves its needle, or has moved it. */
    boxSerial: count.optional(),
    /** Its needle has moved: which was it? */
    isAsked: z.boolean(),
  }),
  z.strictObject({
    kind: z.literal('neighbours'),
    moved: count,
    of: count,
    /** Whose gauge goes from end to end now. */
    movedJobId: folderName.optional(),
  }),
  z.strictObject({
    kind: z.literal('sweep'),
    order: sweepOrder,
    /** Whose needle is to be read, the next one first. */
    waiters: z.array(z.strictObject({ jobId: folderName, wants: z.enum(['reading', 'short-step']) })),
    /** An answer that fits another needle better; nothing was entered yet. */
    doubt: z
      .strictObject({ jobId: folderName, otherJobId: folderName, reading: finite, stepId: name })
      .optional(),
  }),
]);
export type ClusterDoing = z.infer<typeof doing>;

/** A cluster as it is now. */
export const clusterFrame = z.strictObject({
  clusterId: folderName,
  lastN: count,
  doing,
  /** Whose screen began what is done, and reads the needles. */
  reader: name.optional(),
  /** Serial numbers of the boxes that answer. */
  boxes: z.array(count),
  /** Every gauge has its box, as somebody said since it was plugged in. */
  isCalled: z.boolean(),
  /** Why what was done last came to nothing. */
  trouble: text.optional(),
});
export type ClusterFrame = z.infer<typeof clusterFrame>;

/** One gauge of one cluster in the batch table. Percent: how far the ohms at its ends are off its family's. */
export type BatchRow = {
  readonly clusterId: string;
  readonly title: string;
  readonly vehicle: string;
  readonly simulated: boolean;
  readonly openedAt: string;
  readonly place: string;
  readonly jobId: string;
  readonly quantity: string;
  readonly minutes?: number;
  readonly foundPercent?: number;
  readonly leftPercent?: number;
  /** What was done to it between the two. */
  readonly done: string;
};
export type BatchTable = {
  readonly rows: readonly BatchRow[];
  /** Clusters that cannot be read, each with why. */
  readonly unreadable: readonly string[];
};

/** What was found and left of each gauge; a condition is left out where nothing was measured in it. */
export type ClusterSheet = {
  readonly gauges: readonly {
    readonly jobId: string;
    readonly place: string;
    readonly done: string;
    readonly found?: GaugeCondition;
    readonly left?: GaugeCondition;
  }[];
};
