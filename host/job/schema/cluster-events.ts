import { z } from 'zod';
import { condition } from './sweep';
import { count, finite, folderName, name, notNegative, positive, resistanceOhm, text } from './values';

/** What a cluster journal's first line says; a newer program's higher number is not written on. */
export const CLUSTER_SCHEMA = 1;

/** What feeds all gauges of a cluster. */
export const clusterFeed = z.strictObject({
  volt: positive.optional(),
  stabiliser: name.optional(),
  fuseAmpere: positive.optional(),
  /** The boxes' BATTERY - leads lie on the bench's negative, where they see what lifts the cluster's ground. */
  isBatteryLeadOnBench: z.boolean().optional(),
});
export type ClusterFeed = z.infer<typeof clusterFeed>;

const measured = z.strictObject({ value: finite, u: notNegative });

const neighbourCell = z.strictObject({
  movedJobId: folderName,
  watchedJobId: folderName,
  percentOfArc: finite,
  uPercent: notNegative,
  commonOhm: measured,
  groundOhm: measured.optional(),
});
export type NeighbourSaid = z.infer<typeof neighbourCell>;

const event = <Kind extends string, Shape extends z.ZodRawShape>(kind: Kind, shape: Shape) =>
  z.strictObject({ n: count, at: z.iso.datetime(), by: name, kind: z.literal(kind), ...shape });

/** Everything that happens to the gauges of a cluster together; what happens to one of them is in its own job. */
export const clusterEvent = z.discriminatedUnion('kind', [
  event('cluster-opened', {
    schema: count,
    clusterId: folderName,
    title: name,
    vehicle: name,
    simulated: z.boolean(),
    feed: clusterFeed,
  }),
  event('gauge-added', { jobId: folderName, place: name }),
  event('gauge-removed', { jobId: folderName, because: text }),
  event('berth-assigned', { jobId: folderName, boxSerial: count, how: z.enum(['roll-call', 'by-hand']) }),
  /** Which needle moved when this box did: one job's, or what kept a person from saying so. */
  event('roll-call', {
    boxSerial: count,
    moved: z.union([
      z.strictObject({ jobId: folderName }),
      z.strictObject({ nothing: z.enum(['none', 'several', 'not-sure']) }),
    ]),
    milliamp: finite.optional(),
  }),
  event('rest-chosen', { jobId: folderName, resistanceOhm }),
  event('neighbours-measured', { cells: z.array(neighbourCell).max(64) }),
  event('state-declared', { state: condition }),
  event('swept', {
    order: z.enum(['free', 'rounds', 'one-by-one']),
    minutes: notNegative,
    leastMinutes: notNegative,
    readings: count,
    doubted: count,
  }),
  /** One gauge without boxes: a person put its resistances on. */
  event('swept-by-hand', { jobId: folderName, sweepId: name, minutes: notNegative, readings: count }),
  event('note', { text }),
]);
export type ClusterEvent = z.infer<typeof clusterEvent>;
type DistributiveOmit<Union, Key extends PropertyKey> = Union extends unknown ? Omit<Union, Key> : never;
export type ClusterBody = DistributiveOmit<ClusterEvent, 'n' | 'at' | 'by'>;
