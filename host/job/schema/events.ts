import { z } from 'zod';
import { adjustmentShape } from './adjustment';
import { opening } from './gauge';
import { handSetUp } from './by-hand';
import { ohmmeter, supplyAt } from './instrument';
import { photographShape } from './photograph';
import {
  driftShape,
  networkFittedShape,
  proofLimit,
  proofRuleShape,
  proofShape,
  reestimatedShape,
} from './proof-shapes';
import { confirmation, gateEvidence } from './safety';
import { condition, MOST_SHORT_STEPS, step, sweepMode } from './sweep';
import { trimCandidate, trimOptions } from './trim';
import {
  count,
  finite,
  folderName,
  given,
  leg,
  name,
  notNegative,
  positive,
  resistanceOhm,
  stopEnd,
  text,
} from './values';
import { chainShapes } from './chain-shapes';
import { checkShapes } from './check-shapes';
import { senderShapes } from './sender-shapes';

/** Raised only when an old program could misread a new journal. */
export const JOURNAL_SCHEMA = 1;

/** Every event carries its number (1, 2, 3 ...), when, and who said it. */
const event = <Kind extends string, Shape extends z.ZodRawShape>(kind: Kind, shape: Shape) =>
  z.strictObject({
    n: z.number().int().min(1),
    at: z.iso.datetime(),
    by: name,
    kind: z.literal(kind),
    ...shape,
  });

/** What a person may report about one reading; the bench adds what the box knows. */
export const readingShape = {
  reading: finite,
  atStop: stopEnd.optional(),
  readingUncertainty: notNegative.optional(),
};

/** What can be changed in a job that is open. */
export const changedShape = {
  ...opening
    .pick({ title: true, gauge: true, vehicle: true, place: true, complaint: true, particulars: true })
    .partial().shape,
  /** The unit everything is shown in from now on; nothing that is kept changes. */
  shownUnit: name.optional(),
};

/** Where the person sees the needle, seen from the mark being sought. */
export const needleAnswer = z.enum(['below', 'above', 'on']);
export type NeedleAnswer = z.infer<typeof needleAnswer>;

/** Another gauge on the same feed or ground while this one was read: its job, and the ohms it stood at. */
/** A gauge on the same feed while another was read: what its box made, what it drew, what the two have in common. */
const neighbour = z.strictObject({
  jobId: folderName,
  resistanceOhm,
  milliamp: finite.optional(),
  /** At most, as a neighbour test made before found it; left out where there was none. */
  commonOhm: notNegative.optional(),
});

const sweepId = name;
const readingId = name;

export const jobEvent = z.discriminatedUnion('kind', [
  event('job-opened', { schema: z.literal(JOURNAL_SCHEMA), jobId: name, ...opening.shape }),
  event('job-changed', changedShape),
  event('check-answered', checkShapes.checkAnswered),
  event('check-measured', checkShapes.checkMeasured),
  event('check-tested', checkShapes.checkTested),
  event('check-skipped', checkShapes.checkSkipped),
  event('repair-made', checkShapes.repairMade),
  event('as-found', { ...checkShapes.asFound, given: given.optional() }),
  event('check-concluded', {
    ...checkShapes.checkConcluded,
    /** What nobody asked before this was found; old journals do not say. */
    notAsked: z.array(text).optional(),
  }),
  event('box-connected', {
    boxSerial: count,
    firmware: name,
    simulated: z.boolean(),
    calibrationId: count,
    calibrationDay: count,
  }),
  event('box-lost', { reason: text }),
  event('safety-confirmed', { confirmation, sentence: text, ...gateEvidence }),
  /** What was said of the vehicle counts no more: it is asked again before the next step that needs it. */
  event('safety-lapsed', { confirmation, reason: text }),
  event('sweep-started', {
    sweepId,
    mode: sweepMode,
    steps: z.array(step).min(1),
    fromOhm: positive,
    toOhm: positive,
    /** Where somebody has said how low the vehicle's own sender goes, and the box must know it. */
    originalLeastOhm: positive.optional(),
    refinements: count,
    settleMs: notNegative,
    /** Old journals do not say whether the gauge had been worked on. */
    state: condition.optional(),
    dashCelsius: finite.optional(),
    /** No box: what a person puts on. */
    hand: handSetUp.optional(),
    /** A table that was measured without this program: nobody timed its waits. */
    fromTable: name.optional(),
  }),
  event('sweep-extended', { sweepId, steps: z.array(step).min(1), place: z.enum(['next', 'end']) }),
  /** Nothing more of the plan is read but these: the catalogue knows the model. The record says so. */
  event('sweep-shortened', { sweepId, looksLike: name, steps: z.array(step).max(MOST_SHORT_STEPS) }),
  event('reading', {
    readingId,
    sweepId,
    stepId: name,
    resistanceOhm,
    uncertaintyOhm: notNegative,
    measuredOhm: resistanceOhm.optional(),
    ...readingShape,
    given: given.optional(),
    leg,
    supplyVolt: finite.optional(),
    supplyAt: supplyAt.optional(),
    currentMilliamp: finite.optional(),
    waitedMs: notNegative,
    method: z.enum(['step', 'seek']),
    /** What made the resistance: the box, or a resistor that a person put on and measured. Left out: the box. */
    source: z.enum(['box', 'hand']).optional(),
    ohmmeter: ohmmeter.optional(),
    neighbours: z.array(neighbour).optional(),
  }),
  /** One answer of a seek: where the needle stood against the mark at this resistance. */
  event('needle-seen', {
    sweepId,
    stepId: name,
    resistanceOhm,
    uncertaintyOhm: notNegative,
    needle: needleAnswer,
  }),
  /** By hand: where the needle stood; the resistance is measured after it, with the clip off. */
  event('needle-noted', {
    sweepId,
    stepId: name,
    ...readingShape,
    given: given.optional(),
    waitedMs: notNegative,
    supplyVolt: positive.optional(),
    supplyAt: supplyAt.optional(),
  }),
  event('reading-struck', { readingId, reason: name }),
  event('reading-restored', { readingId }),
  event('step-skipped', { stepId: name, reason: name.optional() }),
  event('undone', { undoes: z.number().int().min(1) }),
  event('sweep-paused', { sweepId, reason: text }),
  event('sweep-resumed', { sweepId }),
  event('sweep-finished', { sweepId, complete: z.boolean() }),
  event('taken-over', { from: name.optional() }),
  /** The stop control. `box-silent`: nobody answered; the box opens by itself when its lease runs out. */
  event('stopped', { outcome: z.enum(['box-confirmed-open', 'box-silent', 'no-box']) }),
  event('tripped', {
    faultCode: count,
    code: name,
    reason: text,
    remedy: text.optional(),
    measured: finite,
    limit: finite,
  }),
  event('trip-cleared', {}),
  event('sender-described', senderShapes.described),
  event('sender-point', { ...senderShapes.point, given: given.optional() }),
  event('sender-point-struck', { pointId: name, reason: name }),
  event('self-heating', { ...senderShapes.selfHeating, given: given.optional() }),
  event('working-current', senderShapes.workingCurrent),
  event('chain-tested', chainShapes.tested),
  event('trim-signed', chainShapes.signed),
  event('trim-requested', { options: trimOptions }),
  event('trim-chosen', { candidate: trimCandidate }),
  event('network-fitted', networkFittedShape),
  event('proof-limit', { limit: proofLimit }),
  event('proof-rule', proofRuleShape),
  event('proof-pair', { ...proofShape, given: given.optional() }),
  event('proof-pair-struck', { pairId: name, reason: name }),
  event('sender-reestimated', reestimatedShape),
  event('drift-checked', { ...driftShape, given: given.optional() }),
  event('adjustment-made', { ...adjustmentShape, given: given.optional() }),
  event('photograph-added', photographShape),
  event('photograph-struck', { photographId: name, reason: name }),
  event('record-made', { file: name, format: z.enum(['html', 'json', 'text', 'print']) }),
  event('note', { text }),
  event('answer-superseded', { stepId: name, byReadingId: name.optional(), reading: finite.optional() }),
  event('journal-recovered', { keptAside: name, bytes: count }),
]);

export type JobEvent = z.infer<typeof jobEvent>;
export type EventKind = JobEvent['kind'];
export type EventOf<Kind extends EventKind> = Extract<JobEvent, { kind: Kind }>;

type WithoutStamp<Event> = Event extends unknown ? Omit<Event, 'n' | 'at' | 'by'> : never;
/** An event before the journal numbers, dates and signs it. */
export type EventBody = WithoutStamp<JobEvent>;
