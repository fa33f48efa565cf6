import type { Refused } from '../../core/result';
import {
  senderInVehicle,
  type CommandOf,
  type EventBody,
  type Given,
  type JobCommand,
  type JobEvent,
  type JobState,
} from '../../job';
import type { reEstimateJob } from '../../job/proof/re-estimate-of-job';
import { refuse } from '../../refusals';
import { printed } from '../../words/notation';
import { withSentence } from '../../words/refusal';
import { decideHand, isHandOnly, type HandCommand } from './decide-hand';
import { decideNeedle, decideReading, type AnswerDecision } from './decide-answer';
import type { Box } from '../box/box';
import { boxSubstituteHindrance } from './box-substitute';
import { captureMeasurement, captureSenderPoint } from './capture';
import { captureTest } from './capture-test';
import { clearTrip } from './clear-trip';
import type { BenchClock } from '../clock';
import { decide, isBoxCommand, type BoxCommand } from './decide';
import { loadsUnseen } from './decide-check';
import { boxNews } from '../box/box-news';
import type { HandRun } from '../hand/hand-run';
import type { SweepRun } from '../sweep/sweep-run';
import { drivingHindrance, handHindrance, sourceHindrance } from '../box/hindrances';
import type { SenderWatch } from '../sender/sender-watch';
import { decideStart, isStartByHand, type StartCommand } from './decide-start';
import { decideWatch, isWatchCommand, type WatchCommand } from './decide-watch';

export type BoxUse = 'drive' | 'measure';

export type ReEstimator = (state: JobState, senderId: string) => Promise<ReturnType<typeof reEstimateJob>>;

/** What a command is judged against: the job as it is now, and whatever of the box this job has in hand. */
export type CommandTools = {
  readonly box: Box;
  readonly clock: BenchClock;
  readonly engine: SweepRun;
  readonly hand: HandRun;
  readonly watch: SenderWatch;
  readonly state: () => JobState;
  readonly events: () => readonly JobEvent[];
  /** What the pairs of a proof say of a sender: reckoned beside what keeps the box alive. */
  readonly reEstimate: ReEstimator;
  /** Takes the box, or tells who drives it. */
  readonly claim: (use: BoxUse) => Refused | undefined;
  /** Adds to the journal later, in the desk's turn. */
  readonly record: (bodies: () => readonly EventBody[], by: string) => void;
};

export type Asked = {
  /** In the units that the job keeps. */
  readonly command: JobCommand;
  readonly given?: Given;
  readonly by: string;
};

/** What a command adds to the journal, or why not. The box may be asked for it; nothing is driven. */
export const decideCommand = async (tools: CommandTools, asked: Asked): Promise<AnswerDecision> => {
  const { command } = asked;
  if (isWatchCommand(command)) return ofWatch(tools, command, asked);
  if (isHandCommand(tools, command)) return decideHand(tools.state(), tools.hand, command);
  if (isStart(command) && isStartByHand(tools.state(), command)) return startByHand(tools.state(), command);
  if (isBoxCommand(command)) return withBox(tools, command);
  if (command.kind === 're-estimate-sender') return reEstimated(tools);
  const unmade =
    command.kind === 'add-proof-substitution'
      ? boxSubstituteHindrance(tools.box, tools.engine, command)
      : undefined;
  if (unmade !== undefined) return unmade;
  const bodies = decide(
    { state: tools.state(), events: tools.events(), by: asked.by, nowIso: tools.clock.nowIso() },
    command,
  );
  return 'kind' in bodies ? bodies : bodiesOf(bodies);
};

/** A pair that comes while it is reckoned waits in the job's own line. */
const reEstimated = async ({ state, reEstimate }: CommandTools): Promise<AnswerDecision> => {
  const now = state();
  const senderId = senderInVehicle(now);
  if (senderId === undefined) return refuse('NO_SENDER');
  const found = await reEstimate(now, senderId);
  return found.kind === 'refused' ? withSentence(found, printed) : bodiesOf([found]);
};

/** What is said of a sweep without a box. */
const isHandCommand = ({ hand }: CommandTools, command: JobCommand): command is HandCommand =>
  isHandOnly(command) ||
  ((command.kind === 'give-reading' || command.kind === 'wait-longer') && hand.sweep !== undefined);

const isStart = (command: JobCommand): command is StartCommand =>
  command.kind === 'start-sweep' || command.kind === 'resume-sweep';

/** No box is asked and none is taken. */
const startByHand = (state: JobState, command: StartCommand): AnswerDecision => {
  const body = decideStart(state, command, {
    hindrance: () => handHindrance(state),
    claim: () => undefined,
  });
  return body.kind === 'refused' ? body : bodiesOf([body]);
};

const bodiesOf = (bodies: readonly EventBody[]): AnswerDecision => ({ kind: 'bodies', bodies: [...bodies] });

const newsOf = ({ box, state }: CommandTools): EventBody[] => boxNews(box, state().box);

const withNews = (tools: CommandTools, body: EventBody | Refused): AnswerDecision =>
  body.kind === 'refused' ? body : bodiesOf([...newsOf(tools), body]);

const ofWatch = (tools: CommandTools, command: WatchCommand, { given, by }: Asked): AnswerDecision => {
  const watchTools = {
    watch: tools.watch,
    clock: tools.clock,
    state: tools.state,
    hindrance: () => sourceHindrance(tools.box, tools.engine.mayDrive),
    claim: () => tools.claim('measure'),
    record: (body: EventBody) => tools.record(() => [...newsOf(tools), body], by),
  };
  const bodies = decideWatch(watchTools, command, given);
  return 'kind' in bodies ? bodies : bodiesOf(bodies.length === 0 ? [] : [...newsOf(tools), ...bodies]);
};

/** The box's own measurement, unless what it sees speaks against what it is told. */
const measuredByBox = async (
  { box, state, events }: CommandTools,
  command: CommandOf<'capture-measurement'>,
): Promise<EventBody | Refused> => {
  const body = await captureMeasurement(box, state(), command);
  if (body.kind !== 'check-measured') return body;
  return loadsUnseen({ state: state(), events: events() }, command, body) ?? body;
};

const withBox = async (tools: CommandTools, command: BoxCommand): Promise<AnswerDecision> => {
  const { box, engine } = tools;
  const state = tools.state();
  switch (command.kind) {
    case 'start-sweep':
    case 'resume-sweep': {
      const hindrance = (): Refused | undefined => drivingHindrance(box, state, engine.vital);
      const start = decideStart(state, command, { hindrance, claim: () => tools.claim('drive') });
      return withNews(tools, start);
    }
    case 'give-reading':
      return decideReading(state, engine, command);
    case 'give-needle':
      return decideNeedle(state, engine, command);
    case 'wait-longer':
      return engine.waitLonger(command.stepId) ?? bodiesOf([]);
    case 'clear-trip':
      return clearTrip(box, state.trip, engine.vital);
    case 'capture-measurement':
      return withNews(tools, await measuredByBox(tools, command));
    case 'capture-test':
      return withNews(tools, await captureTest(box, state, command));
    case 'capture-sender-point':
      return withNews(tools, await captureSenderPoint(box, state, command));
  }
};
