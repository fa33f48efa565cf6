import { randomSource } from '../../core/numeric/random';
import { currentStep, openSweep, type JobCommand } from '../../job';
import { isByHand, type HandSweep } from '../../job/state/hand-step';
import { handMeter, onTrack, ordinaryHand, type HandErrors } from './hand-errors';
import {
  angleOfReading,
  answerOf,
  ordinaryPerson,
  type Human,
  type OperatorOptions,
  type SimulatedOperator,
} from './simulated-operator';

export type SimulatedHandOptions = OperatorOptions & {
  /** Puts ohms on the simulated sender wire; undefined: the wire hangs free. */
  readonly put: (resistanceOhm: number | undefined) => void;
  /** How fast the simulated needle lives. */
  readonly needleSpeed: number;
  readonly errors?: HandErrors;
};

/** Near enough to a mark, as a part of the arc. */
const NEAR_PART = 0.04;
/** A step of the hand, by ratio of ohms, while it walks the needle to a mark. */
const LONGEST_STEP = 1.6;
const SHORTEST_STEP = 1.02;
/** Between two steps it looks where the needle went: a part of the wait that brings it to rest. */
const LOOK_PART = 0.35;
/** More steps nobody makes for one mark. */
const MOST_STEPS = 40;
/** Put on late, most of the wait is over. */
const FORGOTTEN_PART = 0.7;

/**
 * Somebody without a box at the simulated gauge: puts parts on, or turns a potentiometer, waits, reads, and says what the
 * ohmmeter shows, each with a person's errors. It looks at the drawn needle only. The seed fixes every error.
 */
export function simulatedHand(options: SimulatedHandOptions): SimulatedOperator {
  const hand = new SimulatedHand(options);
  hand.begin();
  return hand;
}

class SimulatedHand implements SimulatedOperator {
  readonly name: string;
  answers = 0;
  readonly #options: SimulatedHandOptions;
  readonly #human: Human;
  readonly #errors: HandErrors;
  readonly #random;
  readonly #parallax: number;
  #meter: ((trueOhm: number) => number) | undefined;
  /** What is on the wire, or in the hand after it. */
  #ohm = 0;
  #pending: string | undefined;
  #callOff: () => void = () => undefined;
  #leave: () => void = () => undefined;

  constructor(options: SimulatedHandOptions) {
    this.#options = options;
    this.name = options.name ?? 'simulated hand';
    this.#human = options.human ?? ordinaryPerson;
    this.#errors = options.errors ?? ordinaryHand;
    this.#random = randomSource(options.seed);
    this.#parallax = this.#random.normal() * this.#human.parallaxFraction;
  }

  begin(): void {
    const { job } = this.#options;
    const done = job.attend(this.name);
    const unsubscribe = job.subscribe((news) => {
      if (news.kind === 'live') this.#consider();
    });
    this.#leave = () => {
      unsubscribe();
      done();
    };
    this.#consider();
  }

  leave(): void {
    this.#callOff();
    this.#leave();
  }

  get #sweep(): HandSweep | undefined {
    const sweep = openSweep(this.#options.job.state);
    return sweep !== undefined && isByHand(sweep) ? sweep : undefined;
  }

  #later(delayMs: number, action: () => void): void {
    this.#callOff = this.#options.clock.after(delayMs / this.#options.needleSpeed, action);
  }

  #consider(): void {
    const { waiting, lastN } = this.#options.job.live;
    const isAsked = waiting.kind === 'put-on' || waiting.kind === 'answer' || waiting.kind === 'measure';
    const key = isAsked ? `${waiting.kind} ${waiting.stepId} ${lastN}` : undefined;
    if (key === this.#pending) return;
    this.#pending = key;
    if (key === undefined) return;
    this.#callOff();
    this.#later(this.#human.reactionMs, () => this.#act());
  }

  #act(): void {
    const { waiting } = this.#options.job.live;
    const sweep = this.#sweep;
    if (sweep === undefined) return;
    switch (waiting.kind) {
      case 'put-on':
        return sweep.hand.tools.way === 'potentiometer'
          ? this.#turn(sweep)
          : this.#putPart(sweep, waiting.stepId);
      case 'answer':
        return this.#read(waiting);
      case 'measure':
        this.#options.put(undefined);
        return this.#say({ kind: 'give-ohms', stepId: waiting.stepId, shownOhm: this.#shown(sweep) });
      case 'nothing':
      case 'box':
      case 'moving':
      case 'settling':
      case 'person':
        return;
    }
  }

  #putPart(sweep: HandSweep, stepId: string): void {
    const aim = currentStep(sweep)?.aim;
    if (aim?.kind !== 'resistance') return;
    this.#ohm = aim.resistanceOhm * (1 + this.#errors.partTolerance * this.#random.normal());
    this.#options.put(undefined);
    const shownOhm = this.#shown(sweep);
    const isForgotten = this.#random.uniform() < this.#errors.forgottenWait;
    if (!isForgotten) this.#options.put(this.#ohm);
    this.#say({ kind: 'put-on', stepId, shownOhm });
    if (isForgotten) this.#later(FORGOTTEN_PART * sweep.settleMs, () => this.#options.put(this.#ohm));
  }

  #shown({ hand }: HandSweep): number {
    this.#meter ??= handMeter(this.#errors, this.#random, hand.ohmmeter.leadsOhm ?? 0);
    return this.#meter(this.#ohm);
  }

  /** From the side of the leg, in steps that grow shorter, until the needle is near its mark. */
  #turn(sweep: HandSweep): void {
    const step = currentStep(sweep);
    const { tools } = sweep.hand;
    if (step === undefined || tools.way !== 'potentiometer') return;
    const { stepId, aim, leg } = step;
    const mostOhm = tools.wholeOhm + tools.seriesOhm;
    const rises = sweep.toOhm > sweep.fromOhm;
    const isFromMost = (leg === 'up') !== rises;
    const put = (ohm: number): void => {
      this.#ohm = onTrack(this.#errors, tools, ohm);
      this.#options.put(this.#ohm);
    };
    if (aim.kind === 'resistance') {
      put(mostOhm);
      return this.#say({ kind: 'put-on', stepId });
    }
    const wanted = angleOfReading(this.#options.job.state.gauge, aim.reading);
    const lookMs = LOOK_PART * sweep.settleMs;
    const walk = (left: number, ratio: number): void => {
      const seen = this.#options.look()?.angleFraction ?? wanted;
      const off = leg === 'up' ? wanted - seen : seen - wanted;
      const isNear = off < NEAR_PART;
      if (isNear || left === 0) return this.#say({ kind: 'put-on', stepId });
      const next = Math.max(SHORTEST_STEP, Math.min(ratio, 1 + 1.5 * off));
      put(isFromMost ? this.#ohm / next : this.#ohm * next);
      this.#later(lookMs, () => walk(left - 1, next));
    };
    put(isFromMost ? mostOhm : Math.max(tools.seriesOhm, Math.min(sweep.fromOhm, sweep.toOhm)));
    this.#later(lookMs, () => walk(MOST_STEPS, LONGEST_STEP));
  }

  #read(waiting: Parameters<typeof answerOf>[1]): void {
    const seen = this.#options.look();
    if (seen === undefined) return;
    const { gauge } = this.#options.job.state;
    const eye = { gauge, human: this.#human, random: this.#random, parallax: this.#parallax };
    this.#say(answerOf(eye, waiting, seen.angleFraction));
  }

  #say(command: JobCommand): void {
    this.answers += 1;
    // A refusal asks for the same once more: a wrong digit, say.
    void Promise.resolve(this.#options.job.submit(command, this.name)).then((answer) => {
      const isRefused = typeof answer === 'object' && answer !== null && 'code' in answer;
      if (!isRefused) return;
      this.#pending = undefined;
      this.#later(this.#human.reactionMs, () => this.#consider());
    });
  }
}
