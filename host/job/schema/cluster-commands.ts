import { z } from 'zod';
import { clusterFeed } from './cluster-events';
import { jobCommand } from './commands';
import { opening } from './gauge';
import { confirmation } from './safety';
import { condition, sweepChoice } from './sweep';
import { count, folderName, name, text } from './values';

export const sweepOrder = z.enum(['free', 'rounds', 'one-by-one']);

const command = <Kind extends string, Shape extends z.ZodRawShape>(kind: Kind, shape: Shape) =>
  z.strictObject({ kind: z.literal(kind), ...shape });

/** Which needle a person saw move; `nothing`: what kept it from being said. */
const needleMoved = z.union([
  z.strictObject({ jobId: folderName }),
  z.strictObject({ nothing: z.enum(['none', 'several', 'not-sure']) }),
]);

/** What a person may ask of several gauges together; what concerns one of them is a command of its own job. */
export const clusterCommand = z.discriminatedUnion('kind', [
  command('call-roll', {}),
  /** Answers which needle moved with this box. */
  command('say-moved', { boxSerial: count, moved: needleMoved }),
  command('test-neighbours', {}),
  command('declare-state', { state: condition }),
  /** Said once of them all. */
  command('confirm-safety', { confirmation }),
  /** Sweeps what is due, or goes on with what was left. `order` left out: as the neighbour test allows. */
  command('start-sweep', {
    order: sweepOrder.optional(),
    choice: sweepChoice.omit({ hand: true, state: true }),
  }),
  /** An answer at the needle of one job. `isSure`: it is meant for this one, though it would fit another. */
  command('give', { jobId: folderName, command: jobCommand, isSure: z.literal(true).optional() }),
  /** The person's eyes are on this needle: the step that is held for seconds may begin. */
  command('begin-short', { jobId: folderName }),
  /** The answer that was doubted is dropped: the needle is read again. */
  command('read-again', {}),
  /** Another needle first. */
  command('later', { jobId: folderName }),
  command('take-over', {}),
  command('add-note', { text }),
]);
export type ClusterCommand = z.infer<typeof clusterCommand>;

const MOST_GAUGES = 8;

/** What a new cluster is begun with: its gauges, each an ordinary job at its place. */
export const clusterOpening = z.strictObject({
  title: name,
  vehicle: name,
  feed: clusterFeed,
  simulated: z.boolean(),
  gauges: z
    .array(z.strictObject({ place: name, opening: opening }))
    .min(2)
    .max(MOST_GAUGES),
});
export type ClusterOpeningAsked = z.infer<typeof clusterOpening>;
