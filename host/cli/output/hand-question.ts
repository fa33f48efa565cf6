import type { OpenJob } from '../../bench';
import { typedNumber } from '../../core/text/number';
import { currentStep, openSweep, type JobCommand } from '../../job';
import { handAskOf, isByHand, type HandSweep } from '../../job/state/hand-step';
import type { SweepStep } from '../../job';
import { askWords } from '../../words/by-hand';
import { plain } from '../../words/notation';
import { commonCommand, readingCommand, type Question } from './sweep-answers';

type Job = Pick<OpenJob, 'state' | 'live'>;

/** What is asked of a step without a box; undefined where the box makes the resistances, or nothing is asked now. */
export function handQuestion(desk: Job): Question | undefined {
  const sweep = openSweep(desk.state);
  const step = currentStep(sweep);
  if (sweep === undefined || step === undefined || !isByHand(sweep)) return undefined;
  const { stepId } = step;
  switch (desk.live.waiting.kind) {
    case 'put-on':
      return putOnQuestion(desk, sweep, step);
    case 'answer':
      return {
        text: `needle moving ${step.leg}, reads? `,
        command: (word) => readingCommand(word, stepId, desk),
      };
    case 'measure':
      return {
        text: 'ignition off, pull the clip, measure it with its fixed resistor; ohmmeter shows? ',
        command: (word) => ohmsCommand(word, stepId, 'give-ohms'),
      };
    case 'nothing':
    case 'box':
    case 'moving':
    case 'settling':
    case 'person':
      return undefined;
  }
}

function putOnQuestion({ state }: Job, sweep: HandSweep, step: SweepStep): Question {
  const ask = handAskOf(state, sweep, step);
  const { head, how, done } = askWords(ask, plain, state.gauge.unit);
  const { stepId } = step;
  return ask.kind === 'put-on'
    ? {
        text: `${head}. ${how} Ignition off while you clip; ohmmeter shows? `,
        command: (word) => putOnCommand(word, stepId),
      }
    : {
        text: `${head}. ${how} Enter when ${done.toLowerCase()}: `,
        command: (word) => (word === '' ? { kind: 'put-on', stepId } : otherWord(word, stepId)),
      };
}

const otherWord = (word: string, stepId: string): JobCommand | string =>
  commonCommand(word, stepId) ?? 'press Enter when it is so; u undo, s skip, p pause, q stop and end';

/** `on 82`: not what was asked for, and on all the same. */
function putOnCommand(word: string, stepId: string): JobCommand | string {
  const [, meant] = /^on\s+(.+)$/i.exec(word) ?? [];
  const command = ohmsCommand(meant ?? word, stepId, 'put-on');
  return meant !== undefined && typeof command === 'object' && command.kind === 'put-on'
    ? { ...command, isOtherMeant: true }
    : command;
}

function ohmsCommand(word: string, stepId: string, kind: 'put-on' | 'give-ohms'): JobCommand | string {
  const common = commonCommand(word, stepId);
  if (common !== undefined) return common;
  const read = typedNumber(word, word.includes(',') ? 'decimal' : 'unknown');
  return read.kind === 'refused'
    ? `${read.message} Type what the ohmmeter shows, or u, s, p, q`
    : { kind, stepId, shownOhm: read.value };
}
