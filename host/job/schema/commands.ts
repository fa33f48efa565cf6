import { z } from 'zod';
import { adjustmentShape } from './adjustment';
import { changedShape, needleAnswer, readingShape } from './events';
import { importedReadings } from './by-hand';
import { senderShapes } from './sender-shapes';
import { checkShapes } from './check-shapes';
import {
  checkDriftShape,
  proofLimit,
  proofRuleShape,
  runPairShape,
  sayFittedShape,
  substitutionShape,
} from './proof-shapes';
import { ohmmeter, supplyAt } from './instrument';
import { confirmation, gateEvidence } from './safety';
import { MOST_SHORT_STEPS, sweepChoice } from './sweep';
import { trimCandidate, trimOptions } from './trim';
import { count, finite, name, notNegative, positive, resistanceOhm, text } from './values';

const command = <Kind extends string, Shape extends z.ZodRawShape>(kind: Kind, shape: Shape) =>
  z.strictObject({ kind: z.literal(kind), ...shape });

const { pointId, driftOhmPerMinute, ...senderPoint } = senderShapes.point;

/**
 * The unit of the numbers in a command; left out: the dial's own, or the sender's own for a sender. Each command names
 * its unit, so two screens of which one has just changed the unit cannot misunderstand each other.
 */
const unit = name.optional();

const MOST_IMPORTED = 500;
const importedPoint = z.strictObject({
  row: z.number().int().min(1),
  value: finite,
  resistanceOhm: senderPoint.resistanceOhm,
  valueUncertainty: notNegative.optional(),
  resistanceUncertaintyOhm: notNegative.optional(),
});

/** Everything a person, a pedal, a second screen or the simulated operator can ask of a job. */
export const jobCommand = z.discriminatedUnion('kind', [
  command('change-job', changedShape),
  command('answer-check', checkShapes.checkAnswered),
  command('add-measurement', checkShapes.checkMeasured),
  /** The box measures by itself: supply, ripple and so on at its own terminals. */
  command('capture-measurement', {
    what: checkShapes.checkMeasured.what,
    loads: checkShapes.checkMeasured.loads,
    saidOn: checkShapes.checkMeasured.saidOn,
  }),
  /** A reading of the test that the diagnosis asks for, by eye, by meter, or by the box. */
  command('note-test', checkShapes.checkTested),
  command('capture-test', { test: checkShapes.checkTested.test }),
  command('skip-test', checkShapes.checkSkipped),
  command('say-repaired', checkShapes.repairMade),
  command('record-as-found', { ...checkShapes.asFound, unit }),
  command('conclude-check', checkShapes.checkConcluded),
  command('confirm-safety', { confirmation, ...gateEvidence }),
  command('start-sweep', { choice: sweepChoice, unit }),
  command('give-reading', {
    stepId: name,
    ...readingShape,
    /** By hand: the volts that somebody measured at that moment. */
    supplyVolt: positive.optional(),
    supplyAt: supplyAt.optional(),
    unit,
  }),
  /**
   * By hand: the resistor is on, or the needle sits near the mark. `shownOhm`: what the ohmmeter showed of the resistor.
   * `isOtherMeant`: it is not what was asked for, and somebody said that it is on all the same.
   */
  command('put-on', {
    stepId: name,
    shownOhm: resistanceOhm.optional(),
    isOtherMeant: z.literal(true).optional(),
  }),
  /** By hand: what the ohmmeter shows of the potentiometer, off the wire. */
  command('give-ohms', { stepId: name, shownOhm: resistanceOhm }),
  /** A table of ohms and needle readings, as it was pasted or read from a file; their ohms as the meter showed them. */
  command('import-readings', { from: name, readings: importedReadings, ohmmeter: ohmmeter.optional(), unit }),
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
  /** Reads these and no more of the plan: the catalogue knows the model. */
  command('shorten-sweep', {
    looksLike: name,
    resistancesOhm: z.array(resistanceOhm).max(MOST_SHORT_STEPS),
  }),
  command('take-over', {}),
  command('clear-trip', {}),
  /** Left out: a new sender, which the desk gives an id of its own. One that is there is described again. */
  command('describe-sender', { ...senderShapes.described, senderId: name.optional() }),
  command('add-sender-point', { ...senderPoint, unit }),
  /** A table as it was pasted or read from a file; each point keeps its row. */
  command('import-sender-points', {
    senderId: name,
    source: senderPoint.source,
    from: name,
    points: z.array(importedPoint).min(1).max(MOST_IMPORTED),
    /** The meter that all of them were measured with. */
    ohmmeter: ohmmeter.optional(),
    unit,
  }),
  /** The box's ohmmeter takes the resistance; the person gives the thermometer. */
  command('capture-sender-point', {
    senderId: name,
    value: finite,
    valueUncertainty: notNegative.optional(),
    testMicroamp: positive.optional(),
    remark: name.optional(),
    unit,
  }),
  /** The box measures the sender again and again, by itself, until it is told otherwise. */
  command('watch-sender', { senderId: name }),
  command('pause-watch', {}),
  command('end-watch', {}),
  /** The thermometer at one of the watch's measurements: the one on the screen when the first digit was typed. */
  command('take-watched-point', {
    senderId: name,
    measureId: count,
    value: finite,
    valueUncertainty: notNegative.optional(),
    unit,
  }),
  /** Measures at the small and at the large current in one bath. */
  command('check-self-heating', { senderId: name, value: finite, unit }),
  /** The sender in its place: what its own current does to it. */
  command('say-working-current', senderShapes.workingCurrent),
  command('strike-sender-point', { pointId: name, reason: name }),
  /** The readings as found, against what gauge and sender together foretell. */
  command('test-chain', {}),
  /** On to Trim over a shut gate; the reason is printed. */
  command('sign-trim', { reason: text }),
  command('request-trim', { options: trimOptions, unit }),
  command('choose-trim', { candidate: trimCandidate, unit }),
  command('set-proof-limit', { limit: proofLimit, unit }),
  /** Rule and limit of a proof, before its first pair. */
  command('choose-proof-rule', { ...proofRuleShape, limit: proofLimit, unit }),
  command('say-fitted', sayFittedShape),
  command('add-proof-pair', { ...runPairShape, unit }),
  /** Known ohms in the sender's place; the desk says by the sender's curve what they stand for. */
  command('add-proof-substitution', { ...substitutionShape, unit }),
  command('strike-proof-pair', { pairId: name, reason: name }),
  /** What the pairs say of the sender, and whether other resistors are worth fitting. */
  command('re-estimate-sender', {}),
  /** A season after a proof: is it still as it was left? */
  command('check-drift', { ...checkDriftShape, unit }),
  /** What was done to the gauge itself. */
  command('say-adjusted', { ...adjustmentShape, unit }),
  command('strike-photograph', { photographId: name, reason: name }),
  command('note-record', { file: name, format: z.enum(['html', 'json', 'text', 'print']) }),
  command('add-note', { text }),
]);

export type JobCommand = z.infer<typeof jobCommand>;
export type CommandKind = JobCommand['kind'];
export type CommandOf<Kind extends CommandKind> = Extract<JobCommand, { kind: Kind }>;
