import { angleFractionAt, dialFromMarks, person, readingForAngle } from '../../core/dial';
import type { Refused } from '../../core/result';
import { randomSource, type RandomSource } from '../../core/numeric/random';
import {
  scaleOf,
  type Gauge,
  type JobCommand,
  type JobState,
  type LiveFrame,
  type Mark,
  type Waiting,
} from '../../job';
import type { BenchClock } from '../clock';
import type { JobNews } from './listeners';

/** How a person errs, in parts of the arc unless said otherwise. Source: `person`; slips and reaction common practice, no source. */
export type Human = {
  /** Eye off the normal: one shift for the whole sweep, standard deviation. */
  readonly parallaxFraction: number;
  /** Each look anew, standard deviation. */
  readonly lookFraction: number;
  /** Chance of a slip: a whole division off, or the wrong button. */
  readonly slipProbability: number;
  /** Values between marks are given to this part of the gap (0.1 = tenths) when the dial has no divisions. */
  readonly interpolatesTo: number;
  /** From "read now" to the answer. */
  readonly reactionMs: number;
};

export const ordinaryPerson: Human = {
  parallaxFraction: person.parallaxPart,
  lookFraction: person.lookPart,
  slipProbability: 0.01,
  interpolatesTo: 0.1,
  reactionMs: 1_500,
};

/** Whoever tells the needle's place finer than this sees everything. */
const FINEST_PART = 1e-6;

/** An open job as somebody sees it who only answers. */
export type AnsweredJob = {
  readonly state: JobState;
  readonly live: LiveFrame;
  submit(command: JobCommand, by: string): Promise<{ readonly kind: 'accepted' } | Refused>;
  attend(by: string): () => void;
  subscribe(listener: (news: JobNews) => void): () => void;
};

export type OperatorOptions = {
  readonly job: AnsweredJob;
  /** Where the drawn or simulated needle stands: 0 = low end of the arc, 1 = high end. */
  readonly look: () => { readonly angleFraction: number } | undefined;
  readonly clock: BenchClock;
  readonly seed: number;
  readonly human?: Human;
  readonly name?: string;
};

export type SimulatedOperator = {
  readonly name: string;
  /** Answers given so far. */
  readonly answers: number;
  leave(): void;
};

const byAngle = (marks: readonly Mark[]): Mark[] =>
  [...marks].sort((a, b) => a.angleFraction - b.angleFraction);

/** The two marks a needle stands between; beyond the outermost, the nearest two. */
const gapAt = (marks: readonly Mark[], isBelow: (mark: Mark) => boolean): readonly [Mark, Mark] => {
  const sorted = byAngle(marks);
  const below = sorted.filter(isBelow).length;
  const index = Math.min(Math.max(below - 1, 0), sorted.length - 2);
  return [sorted[index]!, sorted[index + 1]!];
};

const straightReading = (gauge: Gauge, angleFraction: number): number => {
  const [low, high] = gapAt(gauge.marks, (mark) => mark.angleFraction <= angleFraction);
  const part = (angleFraction - low.angleFraction) / (high.angleFraction - low.angleFraction);
  return low.reading + part * (high.reading - low.reading);
};

const straightAngle = (gauge: Gauge, reading: number): number => {
  const sorted = byAngle(gauge.marks);
  const rises = sorted[0]!.reading < sorted[1]!.reading;
  const [low, high] = gapAt(gauge.marks, (mark) =>
    rises ? mark.reading <= reading : mark.reading >= reading,
  );
  const part = (reading - low.reading) / (high.reading - low.reading);
  return low.angleFraction + part * (high.angleFraction - low.angleFraction);
};

/**
 * What a needle at this angle shows: the eye follows the scale smoothly from mark to mark, as the drawn dial does;
 * straight between marks where the dial cannot be drawn.
 */
const readingAtAngle = (gauge: Gauge, angleFraction: number): number => {
  const dial = dialFromMarks(gauge.marks);
  return 'code' in dial ? straightReading(gauge, angleFraction) : readingForAngle(dial, angleFraction);
};

/** Where a value sits on the arc. */
export const angleOfReading = (gauge: Gauge, reading: number): number => {
  const dial = dialFromMarks(gauge.marks);
  return 'code' in dial ? straightAngle(gauge, reading) : angleFractionAt(dial, reading);
};

/** So far beyond the outermost mark a needle can only lie against its stop. */
const STOP_FRACTION = 0.03;

/** A value as a person gives it: to half a division, or to a part of the gap between two marks. */
const asGiven = (gauge: Gauge, angleFraction: number, human: Human): number => {
  const reading = readingAtAngle(gauge, angleFraction);
  if (human.interpolatesTo <= FINEST_PART) return reading;
  const [low, high] = gapAt(gauge.marks, (mark) => mark.angleFraction <= angleFraction);
  const stepReading =
    gauge.divisionReading === undefined
      ? Math.abs(high.reading - low.reading) * human.interpolatesTo
      : gauge.divisionReading / 2;
  const rounded = low.reading + Math.round((reading - low.reading) / stepReading) * stepReading;
  return Number(rounded.toPrecision(6));
};

type Eye = {
  readonly gauge: Gauge;
  readonly human: Human;
  readonly random: RandomSource;
  readonly parallax: number;
};

/** What a person answers who sees the needle there. */
export const answerOf = (
  eye: Eye,
  waiting: Extract<Waiting, { kind: 'answer' }>,
  trueFraction: number,
): JobCommand => {
  const { gauge, human, random, parallax } = eye;
  const { stepId } = waiting;
  const seen = trueFraction + parallax + random.normal() * human.lookFraction;
  const isSlip = random.uniform() < human.slipProbability;
  if (waiting.wants === 'needle') {
    const off = seen - angleOfReading(gauge, waiting.mark ?? 0);
    if (Math.abs(off) <= person.onMarkPart && !isSlip) return { kind: 'give-needle', stepId, needle: 'on' };
    return { kind: 'give-needle', stepId, needle: off < 0 !== isSlip ? 'below' : 'above' };
  }
  const sorted = byAngle(gauge.marks);
  const first = sorted[0]!;
  const last = sorted.at(-1)!;
  const isRising = first.reading < last.reading;
  if (trueFraction < first.angleFraction - STOP_FRACTION) {
    return { kind: 'give-reading', stepId, reading: first.reading, atStop: isRising ? 'low' : 'high' };
  }
  if (trueFraction > last.angleFraction + STOP_FRACTION) {
    return { kind: 'give-reading', stepId, reading: last.reading, atStop: isRising ? 'high' : 'low' };
  }
  const slip = isSlip ? scaleOf(gauge.marks).span / 10 : 0;
  return { kind: 'give-reading', stepId, reading: asGiven(gauge, seen, human) + slip };
};

/**
 * Someone who watches the simulated needle and answers like a person, with a person's errors: for tests and for
 * `sweep --simulate --auto`. It looks at the drawn needle only; it knows nothing of resistances. The seed fixes every
 * error. It answers what is asked and decides nothing else: a trip or a pause waits for a real person.
 */
export const simulatedOperator = (options: OperatorOptions): SimulatedOperator => {
  const { job, look, clock, human = ordinaryPerson, name = 'simulated operator' } = options;
  const random = randomSource(options.seed);
  const parallax = random.normal() * human.parallaxFraction;
  const done = job.attend(name);
  let answers = 0;
  let pending: string | undefined;
  let callOff: () => void = () => undefined;

  const answer = (): void => {
    const { waiting } = job.live;
    const seen = look();
    if (waiting.kind !== 'answer' || seen === undefined) return;
    answers += 1;
    const eye = { gauge: job.state.gauge, human, random, parallax };
    // Refusals are not this person's business: the next frame asks again or does not.
    void job.submit(answerOf(eye, waiting, seen.angleFraction), name);
  };

  const consider = (): void => {
    const { waiting, lastN } = job.live;
    const key = waiting.kind === 'answer' ? `${waiting.stepId} ${lastN}` : undefined;
    if (key === pending) return;
    callOff();
    pending = key;
    if (key !== undefined) callOff = clock.after(human.reactionMs, answer);
  };

  const unsubscribe = job.subscribe((news) => {
    if (news.kind === 'live') consider();
  });
  consider();

  return {
    name,
    get answers() {
      return answers;
    },
    leave: () => {
      callOff();
      unsubscribe();
      done();
    },
  };
};
