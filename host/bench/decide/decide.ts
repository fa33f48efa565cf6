import type { Refused } from '../../core/result';
import { refuse } from '../../refusals';
import {
  currentStep,
  openSweep,
  runningSweep,
  turnOf,
  type CommandOf,
  type JobCommand,
  type JobEvent,
  type JobState,
  type Step,
} from '../../job';
import { countedReadings } from '../../job/state/views';
import { asFoundHindrance } from '../box/hindrances';
import { confirmSafety } from './confirm-safety';
import type { HandOnly } from './decide-hand';
import { decideImport } from './decide-import';
import { decideCheck } from './decide-check';
import { decideSender } from './decide-sender';
import { decideProof, isProofCommand } from './decide-proof';
import { decideTrim } from './decide-trim';
import { tooHot } from './proof-gates';
import { decideUndo } from './decide-undo';
import { noSuch, struck, type Decision } from './decision';
import { offScale, truthOffScale } from './off-scale';
import type { WatchCommand } from './decide-watch';
import { freshStepId } from '../sweep/steps';

/** Commands that the box has a say in; all others need nothing but the journal. */
const BOX_COMMANDS = [
  'start-sweep',
  'resume-sweep',
  'give-reading',
  'give-needle',
  'wait-longer',
  'clear-trip',
  'capture-measurement',
  'capture-test',
  'capture-sender-point',
] as const;

export type BoxCommand = CommandOf<(typeof BOX_COMMANDS)[number]>;
export type PlainCommand = Exclude<
  JobCommand,
  BoxCommand | WatchCommand | HandOnly | CommandOf<'re-estimate-sender'>
>;

export const isBoxCommand = (command: JobCommand): command is BoxCommand =>
  BOX_COMMANDS.some((kind) => kind === command.kind);

const stepOf = (state: JobState, stepId: string) =>
  state.sweeps.flatMap((sweep) => sweep.steps).find((step) => step.stepId === stepId);

const noSweep = (): Refused => refuse('NO_SWEEP');

const strikeReading = (state: JobState, command: CommandOf<'strike-reading'>): Decision => {
  const reading = state.readings.find((each) => each.readingId === command.readingId);
  if (reading === undefined) return noSuch('reading', command.readingId);
  if (reading.struckBecause !== undefined) return refuse('ALREADY_STRUCK');
  return [{ kind: 'reading-struck', readingId: command.readingId, reason: command.reason }];
};

const restoreReading = (state: JobState, command: CommandOf<'restore-reading'>): Decision => {
  const reading = state.readings.find((each) => each.readingId === command.readingId);
  if (reading === undefined) return noSuch('reading', command.readingId);
  if (reading.struckBecause === undefined) return refuse('NOT_STRUCK');
  return [{ kind: 'reading-restored', readingId: command.readingId }];
};

const skipStep = (state: JobState, command: CommandOf<'skip-step'>): Decision => {
  const step = stepOf(state, command.stepId);
  if (step === undefined) return noSuch('step', command.stepId);
  if (step.state.kind !== 'pending') return refuse('STEP_DONE');
  const reason = command.reason === undefined ? {} : { reason: command.reason };
  return [{ kind: 'step-skipped', stepId: command.stepId, ...reason }];
};

/** Any step may be repeated, of an earlier sweep too; when every sweep is finished, its own is opened again for it. */
const repeatStep = (state: JobState, command: CommandOf<'repeat-step'>): Decision => {
  const step = stepOf(state, command.stepId);
  if (step === undefined) return noSuch('step', command.stepId);
  const sweep = openSweep(state) ?? state.sweeps.find((each) => each.steps.includes(step));
  if (sweep === undefined) return noSweep();
  const again = { stepId: freshStepId(sweep), leg: step.leg, aim: step.aim, why: 'repeat' } as const;
  return [{ kind: 'sweep-extended', sweepId: sweep.sweepId, steps: [again], place: 'next' }];
};

const finishSweep = (state: JobState): Decision => {
  const sweep = openSweep(state);
  if (sweep === undefined) return noSweep();
  return [{ kind: 'sweep-finished', sweepId: sweep.sweepId, complete: currentStep(sweep) === undefined }];
};

const FEWEST_FOR_SHORT = 3;

/**
 * Only of a box's own plan of steps, not before readings are there to know a model by, and at no less resistance than was
 * read already: the plan comes down to the least by steps, and this does not.
 */
const shortenSweep = (
  state: JobState,
  { looksLike, resistancesOhm }: CommandOf<'shorten-sweep'>,
): Decision => {
  const sweep = runningSweep(state);
  if (sweep === undefined) return noSweep();
  const { sweepId, fromOhm, toOhm } = sweep;
  const read = countedReadings(state).filter((each) => each.sweepId === sweepId);
  if (sweep.mode === 'seek' || sweep.hand !== undefined || read.length < FEWEST_FOR_SHORT)
    return refuse('SHORT_SWEEP_TOO_EARLY', { least: FEWEST_FOR_SHORT });
  const [least, most] = [Math.min(...read.map((each) => each.resistanceOhm)), Math.max(fromOhm, toOhm)];
  const outside = resistancesOhm.find((ohm) => ohm < least || ohm > most);
  if (outside !== undefined) return refuse('SHORT_SWEEP_OUTSIDE', { resistanceOhm: outside, least, most });
  const { leg = 'up' } = currentStep(sweep) ?? {};
  const steps = resistancesOhm.map((resistanceOhm, index): Step => ({
    ...{ stepId: freshStepId(sweep, index), leg, why: 'model' },
    aim: { kind: 'resistance', resistanceOhm },
  }));
  return [{ kind: 'sweep-shortened', sweepId, looksLike, steps }];
};

const pauseSweep = (state: JobState, command: CommandOf<'pause-sweep'>): Decision => {
  const sweep = runningSweep(state);
  if (sweep === undefined) return noSweep();
  return [{ kind: 'sweep-paused', sweepId: sweep.sweepId, reason: command.reason ?? 'paused by hand' }];
};

const strikePhotograph = (state: JobState, command: CommandOf<'strike-photograph'>): Decision => {
  const { photographId, reason } = command;
  const photograph = state.photographs.find((each) => each.photographId === photographId);
  return struck(photograph, noSuch('photograph', photographId), {
    kind: 'photograph-struck',
    photographId,
    reason,
  });
};

/** Everything a sweep hangs on must not change under it. */
const changeJob = (state: JobState, command: CommandOf<'change-job'>): Decision => {
  const isGaugeTouched = command.gauge !== undefined || command.place !== undefined;
  if (isGaugeTouched && runningSweep(state) !== undefined) {
    return refuse('SWEEP_RUNNING');
  }
  const { kind, ...changes } = command;
  const unit = (command.gauge ?? state.gauge).unit;
  if (command.shownUnit !== undefined && turnOf(unit, command.shownUnit) === undefined) {
    return refuse('UNIT_UNKNOWN', { unit: command.shownUnit, own: unit });
  }
  if (Object.keys(changes).length === 0) return refuse('NOTHING_CHANGED');
  return [{ kind: 'job-changed', ...changes }];
};

const decideSweep = (
  state: JobState,
  command: Extract<PlainCommand, { kind: `${string}-step` | `${string}-reading` | `${string}-sweep` }>,
): Decision => {
  switch (command.kind) {
    case 'strike-reading':
      return strikeReading(state, command);
    case 'restore-reading':
      return restoreReading(state, command);
    case 'skip-step':
      return skipStep(state, command);
    case 'repeat-step':
      return repeatStep(state, command);
    case 'pause-sweep':
      return pauseSweep(state, command);
    case 'finish-sweep':
      return finishSweep(state);
    case 'shorten-sweep':
      return shortenSweep(state, command);
  }
};

const asFound = (state: JobState, command: CommandOf<'record-as-found'>): Decision =>
  (command.reference === undefined ? undefined : tooHot(state, command.reference)) ??
  asFoundHindrance(state, command.state) ??
  offScale(state, command.indicated) ??
  (command.reference === undefined ? undefined : truthOffScale(state, command.reference)) ?? [
    { ...command, kind: 'as-found' },
  ];

/** The job as it is, and who asks. */
export type JobNow = {
  readonly state: JobState;
  readonly events: readonly JobEvent[];
  readonly by: string;
  /** Left out: the hour of the newest entry. */
  readonly nowIso?: string;
};

/** What a plain command adds to the journal, or why not. Pure. */
export const decide = (
  { state, events, by, nowIso = state.lastAt }: JobNow,
  command: PlainCommand,
): Decision => {
  if (isProofCommand(command)) return decideProof(state, by, command);
  switch (command.kind) {
    case 'change-job':
      return changeJob(state, command);
    case 'answer-check':
    case 'add-measurement':
    case 'note-test':
    case 'skip-test':
    case 'say-repaired':
    case 'conclude-check':
      return decideCheck({ state, events }, command);
    case 'record-as-found':
      return asFound(state, command);
    case 'confirm-safety':
      return confirmSafety(state, { by, nowIso }, command);
    case 'strike-reading':
    case 'restore-reading':
    case 'skip-step':
    case 'repeat-step':
    case 'pause-sweep':
    case 'finish-sweep':
    case 'shorten-sweep':
      return decideSweep(state, command);
    case 'undo':
      return decideUndo({ state, events, by }, command);
    case 'take-over':
      return [{ kind: 'taken-over', ...(state.attending === undefined ? {} : { from: state.attending }) }];
    case 'describe-sender':
    case 'add-sender-point':
    case 'import-sender-points':
    case 'strike-sender-point':
    case 'say-working-current':
      return decideSender({ state, events }, command);
    case 'import-readings':
      return decideImport(state, command);
    case 'request-trim':
    case 'choose-trim':
    case 'test-chain':
    case 'sign-trim':
      return decideTrim(state, command);
    case 'say-adjusted':
      return [{ ...command, kind: 'adjustment-made' }];
    case 'strike-photograph':
      return strikePhotograph(state, command);
    case 'note-record':
      return [{ ...command, kind: 'record-made' }];
    case 'add-note':
      return [{ kind: 'note', text: command.text }];
  }
};
