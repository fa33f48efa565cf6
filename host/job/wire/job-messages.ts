import { z } from 'zod';
import { clusterCommand } from '../schema/cluster-commands';
import { jobCommand } from '../schema/commands';
import { jobEvent } from '../schema/events';
import { confirmation } from '../schema/safety';
import { step } from '../schema/sweep';
import { count, finite, folderName, name, notNegative, text } from '../schema/values';

/** What the box is doing, as far as the host knows; `unknown` is never shown as safe. */
const boxState = z.enum(['unknown', 'safe', 'armed', 'driving', 'tripped']);

/** What the bench is waiting for. Fractions run from 0 to 1. */
const waiting = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('nothing') }),
  z.strictObject({ kind: z.literal('box'), reason: text }),
  z.strictObject({ kind: z.literal('moving'), stepId: name }),
  z.strictObject({
    kind: z.literal('settling'),
    stepId: name,
    settleMs: notNegative,
    passedMs: notNegative,
    /** Left out by hand: nobody measures the current. */
    currentSettled: z.boolean().optional(),
    why: text,
  }),
  /** Settled: read now. `needle`: the person says where the needle stands against the mark; `reading`: what it shows. */
  z.strictObject({
    kind: z.literal('answer'),
    stepId: name,
    wants: z.enum(['reading', 'needle']),
    mark: finite.optional(),
    /** After this the output opens and the sweep pauses: nobody is watching. */
    /** Left out by hand: nothing is driven, and nothing opens. */
    unattendedInMs: notNegative.optional(),
    /** Set when this step may be held for a short time only (low resistance on a thermal gauge). */
    mustEndInMs: notNegative.optional(),
  }),
  z.strictObject({ kind: z.literal('person'), reason: text }),
  /** By hand: a resistor is to be put on, or the needle brought to a mark. */
  z.strictObject({ kind: z.literal('put-on'), stepId: name }),
  /** By hand: the needle was read; the clip is to be pulled and the potentiometer measured by itself. */
  z.strictObject({ kind: z.literal('measure'), stepId: name }),
]);
export type Waiting = z.infer<typeof waiting>;

/** The box's ohmmeter watching a sender in its bath. `measureId` is what a point is taken by. */
const senderWatchLive = z.strictObject({
  senderId: name,
  status: z.enum(['measuring', 'paused', 'heating']),
  reason: text.optional(),
  /** What the box refuses at the moment ("nothing is connected"); it is tried again by itself. */
  trouble: text.optional(),
  measureId: count.optional(),
  resistanceOhm: notNegative.optional(),
  uncertaintyOhm: notNegative.optional(),
  driftOhmPerMinute: finite.optional(),
  propose: z.enum(['steady', 'moved', 'too-fast']).optional(),
  heatingFraction: notNegative.optional(),
});
export type SenderWatchLive = z.infer<typeof senderWatchLive>;

const liveFrame = z.strictObject({
  jobId: folderName,
  /** Newest event in the journal: a screen that has fewer asks for the rest. */
  lastN: count,
  link: z.strictObject({
    state: z.enum(['closed', 'opening', 'greeting', 'live', 'silent', 'failed']),
    reason: text.optional(),
    simulated: z.boolean(),
    /** Several boxes are plugged in, and nobody has said which one is on this gauge: which there are, and where. */
    choices: z.array(z.strictObject({ boxSerial: count, berth: count })).optional(),
  }),
  box: z.strictObject({
    state: boxState,
    boxMs: notNegative.optional(),
    /** The box opens its output by itself after this much silence of the host. */
    deadManMs: notNegative.optional(),
  }),
  output: z.strictObject({
    askedOhm: notNegative.optional(),
    madeOhm: notNegative.optional(),
    uncertaintyOhm: notNegative.optional(),
    measuredOhm: notNegative.optional(),
    volt: finite.optional(),
    /** The feed pulses: what heats is told instead of volts, and current and power are those that heat. */
    pulsing: z.literal(true).optional(),
    heatVolt: finite.optional(),
    milliamp: finite.optional(),
    watt: finite.optional(),
  }),
  waiting,
  step: step.optional(),
  progress: z.strictObject({ done: count, total: count, minutesLeft: notNegative }).optional(),
  trip: z
    .strictObject({
      code: name,
      reason: text,
      remedy: text.optional(),
      /** Left out when the box did not report them to this program. */
      measured: finite.optional(),
      limit: finite.optional(),
    })
    .optional(),
  attending: name.optional(),
  watch: senderWatchLive.optional(),
  /** Said of the vehicle, and counts no more after a long break; the journal is told with the next entry. */
  lapsed: z.array(confirmation).optional(),
  /** Why a sweep stands still that the journal calls running; the journal is told with the next entry. */
  owedPause: text.optional(),
  /** Why nothing can be entered in this job at the moment; it can be looked at. */
  readOnly: text.optional(),
  /** Every screen and program that is present, so that two people know of each other. */
  present: z.array(name),
});
export type LiveFrame = z.infer<typeof liveFrame>;

export type Refusal = { readonly kind: 'refused'; readonly code: string; readonly message: string };

const headline = z.strictObject({
  station: z.enum(['check', 'sweep', 'sender', 'trim', 'proof', 'record']),
  done: z.boolean(),
  text,
});

const boxStopped = z.strictObject({
  boxSerial: count.optional(),
  outcome: z.enum(['box-confirmed-open', 'box-silent', 'no-box']),
});

export const jobSummary = z.strictObject({
  jobId: folderName,
  title: name,
  vehicle: name,
  quantity: name,
  unit: name,
  simulated: z.boolean(),
  openedAt: z.iso.datetime(),
  lastAt: z.iso.datetime(),
  lastN: count,
  headlines: z.array(headline),
  /** The curve in small: ohms and reading of some of the counted readings, in order along the dial. */
  points: z.array(z.tuple([finite, finite])),
  /** What the proof says, once it says something. */
  verdict: z.enum(['within', 'outside', 'cannot-tell']).optional(),
  /** Off the list of those at work. */
  archived: z.literal(true).optional(),
  /** Came with the program, to be looked at. */
  example: z.literal(true).optional(),
});
export type JobSummary = z.infer<typeof jobSummary>;

/** A job folder that cannot be opened is listed with the reason, never left out. */
export type JobListing = {
  readonly jobs: JobSummary[];
  readonly unreadable: { readonly folder: string; readonly code: string; readonly message: string }[];
};

const LONGEST_DEVICE_NAME = 40;
/** What a device or a screen is called: short, visible, one line. */
export const deviceName = z
  .string()
  .trim()
  .min(1)
  .max(LONGEST_DEVICE_NAME)
  .regex(/^[^\p{C}]*$/u, 'must be one line of visible characters');

/** What a screen sends. `id` is the screen's own number for its question; the answer carries it back. */
export const screenMessage = z.discriminatedUnion('kind', [
  /**
   * First message: which page this is, and what the screen would like to be called. `key` is known to this screen alone;
   * the host answers with the name it will sign with.
   */
  z.strictObject({ kind: z.literal('hello'), build: name, screen: deviceName, key: name }),
  /** Which job, and the newest event the screen already has (0 = none). */
  z.strictObject({ kind: z.literal('follow'), jobId: folderName, afterN: count }),
  /** Sent at least every two seconds while a person can see the screen; see the bench's presence rule. */
  z.strictObject({ kind: z.literal('present') }),
  z.strictObject({ kind: z.literal('command'), id: count, command: jobCommand }),
  /** The same of a cluster, in place of a job. */
  z.strictObject({ kind: z.literal('follow-cluster'), clusterId: folderName, afterN: count }),
  z.strictObject({ kind: z.literal('cluster-command'), id: count, command: clusterCommand }),
  z.strictObject({ kind: z.literal('stop'), id: count }),
]);
export type ScreenMessage = z.infer<typeof screenMessage>;

/** What a screen receives. */
export const jobMessage = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('events'), jobId: folderName, events: z.array(jobEvent) }),
  z.strictObject({ kind: z.literal('live'), frame: liveFrame }),
  z.strictObject({ kind: z.literal('accepted'), id: count, upToN: count }),
  z.strictObject({ kind: z.literal('refused'), id: count, code: name, message: text }),
  z.strictObject({
    kind: z.literal('stopped'),
    id: count,
    outcome: z.enum(['box-confirmed-open', 'box-silent', 'no-box']),
    /** Which box answered what, where there are several. */
    boxes: z.array(boxStopped).optional(),
  }),
]);
export type JobMessage = z.infer<typeof jobMessage>;
