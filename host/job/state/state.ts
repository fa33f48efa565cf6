import type { EventKind, EventOf } from '../schema/events';
import type { ProofLimit } from '../schema/proof-shapes';
import type { Gauge } from '../schema/gauge';
import type { Particulars } from '../schema/particulars';
import type { HandSetUp } from '../schema/by-hand';
import type { Confirmation } from '../schema/safety';
import type { Step } from '../schema/sweep';
import type { TrimCandidate, TrimOptions } from '../schema/trim';

/** An event as the state keeps it: everything but the name of its kind. */
type Kept<Kind extends EventKind> = Readonly<Omit<EventOf<Kind>, 'kind'>>;

export type Measurement = Kept<'check-measured'>;
export type Tested = Kept<'check-tested'>;
export type AsFound = Kept<'as-found'>;
export type Conclusion = Kept<'check-concluded'>;

/** Struck entries stay: they are shown crossed out and never counted. */
export type Struck = { readonly struckBecause?: string };
export type Reading = Kept<'reading'> & Struck;
export type SenderPoint = Kept<'sender-point'> & Struck;
/** `struckN`: number of the entry that struck it. */
export type ProofPair = Kept<'proof-pair'> & Struck & { readonly struckN?: number };

export type Drift = Kept<'drift-checked'>;
export type Adjustment = Kept<'adjustment-made'>;
export type Photograph = Kept<'photograph-added'> & Struck;

export type StepState =
  | { readonly kind: 'pending' }
  | { readonly kind: 'read'; readonly readingId: string }
  | { readonly kind: 'skipped'; readonly reason?: string };

export type NeedleSeen = {
  readonly n: number;
  readonly resistanceOhm: number;
  readonly uncertaintyOhm: number;
  readonly needle: EventOf<'needle-seen'>['needle'];
};

/** By hand: the needle was read, and the resistance is still to be measured. */
export type NeedleNoted = Kept<'needle-noted'>;

/** `seen`: the answers of a seek so far, oldest first. */
export type SweepStep = Step & {
  readonly state: StepState;
  readonly seen: readonly NeedleSeen[];
  readonly noted?: NeedleNoted;
};

export type SweepStatus =
  | { readonly kind: 'running' }
  | { readonly kind: 'paused'; readonly reason: string }
  | { readonly kind: 'finished'; readonly complete: boolean };

export type Sweep = {
  readonly sweepId: string;
  readonly mode: EventOf<'sweep-started'>['mode'];
  readonly startedAt: string;
  readonly fromOhm: number;
  readonly toOhm: number;
  /** How low the vehicle's own sender goes, where the box must know it and somebody has said it. */
  readonly originalLeastOhm?: number;
  /** Points the host may still add. */
  readonly refinementsLeft: number;
  readonly settleMs: number;
  /** Left out: nobody said. */
  readonly state?: NonNullable<EventOf<'sweep-started'>['state']>;
  readonly dashCelsius?: number;
  /** Without a box. */
  readonly hand?: HandSetUp;
  /** Where its table came from, if nobody was asked step by step. */
  readonly fromTable?: string;
  /** It was cut short, since the catalogue knew the model. */
  readonly short?: { readonly looksLike: string };
  readonly steps: readonly SweepStep[];
  readonly status: SweepStatus;
};

export type Trip = Kept<'tripped'>;
export type Superseded = Kept<'answer-superseded'>;

export type JobBox = { readonly boxSerial: number; readonly firmware: string; readonly simulated: boolean };

export type JobState = {
  readonly jobId: string;
  readonly title: string;
  readonly gauge: Gauge;
  /** The unit a person wants to see; left out, the dial's own. Everything in the state stays in the dial's own. */
  readonly shownUnit?: string;
  /** The dial as it is printed, where `gauge` has been turned into the shown unit. */
  readonly printed?: Gauge;
  readonly vehicle: string;
  readonly place: 'car' | 'bench';
  readonly complaint?: string;
  readonly particulars?: Particulars;
  /** True when any part of the job was made with a simulated box. */
  readonly simulated: boolean;
  readonly openedAt: string;
  readonly lastN: number;
  readonly lastAt: string;
  readonly answers: Readonly<Record<string, string>>;
  readonly measurements: readonly Measurement[];
  /** Readings of the diagnosis, tests that cannot be done, and what was mended, oldest first. */
  readonly tested: readonly Tested[];
  readonly skippedTests: readonly Kept<'check-skipped'>[];
  readonly repairs: readonly Kept<'repair-made'>[];
  readonly asFound: readonly AsFound[];
  readonly conclusion?: Conclusion;
  readonly box?: JobBox;
  readonly confirmations: readonly Confirmation[];
  /** Who confirmed what, when, and the sentence that was shown. */
  readonly saidForSafety: readonly Kept<'safety-confirmed'>[];
  readonly sweeps: readonly Sweep[];
  readonly readings: readonly Reading[];
  /** The trip that has not been cleared. */
  readonly trip?: Trip;
  readonly trips: readonly Trip[];
  readonly attending?: string;
  readonly senders: readonly Kept<'sender-described'>[];
  readonly senderPoints: readonly SenderPoint[];
  readonly selfHeating: readonly Kept<'self-heating'>[];
  readonly workingCurrents: readonly Kept<'working-current'>[];
  /** The newest chain test, and who signed to go on to Trim without one that agrees. */
  readonly chainTested?: Kept<'chain-tested'>;
  readonly trimSigned?: Kept<'trim-signed'>;
  readonly trimRequest?: TrimOptions;
  /** The sender the trim is about: of the newest request, or one that was added for the trim since. */
  readonly trimSenderId?: string;
  readonly trimChosen?: TrimCandidate;
  /** Number of the event that chose it, and the sender it was searched for. */
  readonly trimChosenN?: number;
  readonly trimChosenFor?: string;
  /** What somebody said is in the sender's lead; it counts no more once another network is chosen. */
  readonly fitted?: Kept<'network-fitted'>;
  /** Left out until somebody chose one. */
  readonly proofLimit?: ProofLimit;
  /** How its pairs are judged; left out in jobs of the older rule, which is the guard band. */
  readonly proofRule?: Kept<'proof-rule'>;
  /** Every limit that was ever set and not taken back, oldest first. */
  readonly proofLimits: readonly Kept<'proof-limit'>[];
  readonly proofPairs: readonly ProofPair[];
  /** What the pairs said of the sender, the newest; and every look after a season, oldest first. */
  readonly reestimated?: Kept<'sender-reestimated'>;
  readonly drifts: readonly Drift[];
  readonly adjustments: readonly Adjustment[];
  readonly photographs: readonly Photograph[];
  readonly records: readonly Kept<'record-made'>[];
  readonly notes: readonly Kept<'note'>[];
  readonly superseded: readonly Superseded[];
  readonly recovered: readonly Kept<'journal-recovered'>[];
};
