import type { Refused } from '../core/result';
import type { CommandOf, EventBody, Given, JobCommand, JobEvent, JobState } from '../job';
import { decideNeedle, decideReading, type AnswerDecision } from './answers';
import type { Box } from './box';
import { captureMeasurement, captureSenderPoint } from './capture';
import { clearTrip } from './clear-trip';
import type { BenchClock } from './clock';
import { decide, isBoxCommand, type BoxCommand } from './decide';
import { loadsUnseen } from './decide-check';
import { boxNews } from './desk-news';
import type { SweepEngine } from './engine';
import { drivingHindrance, sourceHindrance } from './hindrances';
import type { SenderWatch } from './sender-watch';
import { decideStart } from './starts';
import { decideWatch, isWatchCommand, type WatchCommand } from './watch-commands';

export type BoxUse = 'drive' | 'measure';

/** What a command is judged against: the job as it is now, and whatever of the box this job has in hand. */
export type CommandDoor = {
  readonly box: Box;
  readonly clock: BenchClock;
  readonly engine: SweepEngine;
  readonly watch: SenderWatch;
  readonly state: () => JobState;
  readonly events: () => readonly JobEvent[];
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
export const decideCommand = async (door: CommandDoor, asked: Asked): Promise<AnswerDecision> => {
  const { command } = asked;
  if (isWatchCommand(command)) return ofWatch(door, command, asked);
  if (isBoxCommand(command)) return withBox(door, command);
  const bodies = decide({ state: door.state(), events: door.events(), by: asked.by }, command);
  return 'kind' in bodies ? bodies : bodiesOf(bodies);
};

const bodiesOf = (bodies: readonly EventBody[]): AnswerDecision => ({ kind: 'bodies', bodies: [...bodies] });

const newsOf = ({ box, state }: CommandDoor): EventBody[] => boxNews(box, state().box);

const withNews = (door: CommandDoor, body: EventBody | Refused): AnswerDecision =>
  body.kind === 'refused' ? body : bodiesOf([...newsOf(door), body]);

const ofWatch = (door: CommandDoor, command: WatchCommand, { given, by }: Asked): AnswerDecision => {
  const watchDoor = {
    watch: door.watch,
    clock: door.clock,
    state: door.state,
    hindrance: () => sourceHindrance(door.box, door.engine.mayDrive),
    claim: () => door.claim('measure'),
    record: (body: EventBody) => door.record(() => [...newsOf(door), body], by),
  };
  const bodies = decideWatch(watchDoor, command, given);
  return 'kind' in bodies ? bodies : bodiesOf(bodies.length === 0 ? [] : [...newsOf(door), ...bodies]);
};

/** The box's own measurement, unless what it sees speaks against what it is told. */
const measuredByBox = async (
  { box, state, events }: CommandDoor,
  command: CommandOf<'capture-measurement'>,
): Promise<EventBody | Refused> => {
  const body = await captureMeasurement(box, state(), command);
  if (body.kind !== 'check-measured') return body;
  return loadsUnseen({ state: state(), events: events() }, command, body) ?? body;
};

const withBox = async (door: CommandDoor, command: BoxCommand): Promise<AnswerDecision> => {
  const { box, engine } = door;
  const state = door.state();
  switch (command.kind) {
    case 'start-sweep':
    case 'resume-sweep': {
      const hindrance = (): Refused | undefined => drivingHindrance(box, state, engine.vital);
      const start = decideStart(state, command, { hindrance, claim: () => door.claim('drive') });
      return withNews(door, start);
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
      return withNews(door, await measuredByBox(door, command));
    case 'capture-sender-point':
      return withNews(door, await captureSenderPoint(box, state, command));
  }
};
