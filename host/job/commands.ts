import { z } from 'zod';
import { checkShapes, needleAnswer, proofShape, readingShape, senderShapes } from './events';
import { gauge, opening } from './gauge';
import { confirmation } from './safety';
import { sweepChoice } from './sweep';
import { trimCandidate, trimOptions } from './trim';
import { finite, name, notNegative, positive, text } from './values';

const command = <Kind extends string, Shape extends z.ZodRawShape>(kind: Kind, shape: Shape) =>
  z.strictObject({ kind: z.literal(kind), ...shape });

const { pointId, ...senderPoint } = senderShapes.point;
const { pairId, ...proofPair } = proofShape;

/** Everything a person, a pedal, a second screen or the simulated operator can ask of a job. */
export const jobCommand = z.discriminatedUnion('kind', [
  command('change-job', {
    title: name.optional(),
    gauge: gauge.optional(),
    vehicle: name.optional(),
    place: opening.shape.place.optional(),
    complaint: name.optional(),
  }),
  command('answer-check', checkShapes.checkAnswered),
  command('add-measurement', checkShapes.checkMeasured),
  /** The box measures by itself: supply, ripple and so on at its own terminals. */
  command('capture-measurement', {
    what: checkShapes.checkMeasured.what,
    loads: checkShapes.checkMeasured.loads,
  }),
  command('record-as-found', checkShapes.asFound),
  command('conclude-check', checkShapes.checkConcluded),
  command('confirm-safety', { confirmation }),
  command('start-sweep', { choice: sweepChoice }),
  command('give-reading', { stepId: name, ...readingShape }),
  command('give-needle', { stepId: name, needle: needleAnswer }),
  command('skip-step', { stepId: name, reason: name.optional() }),
  command('repeat-step', { stepId: name }),
  /** The needle is still moving: start the wait again. */
  command('wait-longer', { stepId: name }),
  command('strike-reading', { readingId: name, reason: name }),
  command('restore-reading', { readingId: name }),
  /** Left out: the newest event that can be undone. */
  command('undo', { undoes: z.number().int().min(1).optional() }),
  command('pause-sweep', { reason: text.optional() }),
  command('resume-sweep', {}),
  command('finish-sweep', {}),
  command('take-over', {}),
  command('clear-trip', {}),
  command('describe-sender', senderShapes.described),
  command('add-sender-point', senderPoint),
  /** The box's ohmmeter takes the resistance; the person gives the thermometer. */
  command('capture-sender-point', {
    senderId: name,
    value: finite,
    valueUncertainty: notNegative.optional(),
    testMicroamp: positive.optional(),
    remark: name.optional(),
  }),
  command('strike-sender-point', { pointId: name, reason: name }),
  command('request-trim', { options: trimOptions }),
  command('choose-trim', { candidate: trimCandidate }),
  command('add-proof-pair', proofPair),
  command('strike-proof-pair', { pairId: name, reason: name }),
  command('note-record', { file: name, format: z.enum(['html', 'json', 'text', 'print']) }),
  command('add-note', { text }),
]);

export type JobCommand = z.infer<typeof jobCommand>;
export type CommandKind = JobCommand['kind'];
export type CommandOf<Kind extends CommandKind> = Extract<JobCommand, { kind: Kind }>;
