import { refuse, type Refused } from '../core/result';
import { withGiven, type CommandOf, type EventBody, type Given, type JobState } from '../job';
import type { BenchClock } from './clock';
import { senderHindrance } from './hindrances';
import { checkSelfHeating } from './self-heating-check';
import type { SenderWatch } from './sender-watch';

const WATCH_COMMANDS = [
  'watch-sender',
  'pause-watch',
  'end-watch',
  'take-watched-point',
  'check-self-heating',
] as const;
export type WatchCommand = CommandOf<(typeof WATCH_COMMANDS)[number]>;

export const isWatchCommand = (command: { readonly kind: string }): command is WatchCommand =>
  WATCH_COMMANDS.some((kind) => kind === command.kind);

export type WatchDoor = {
  readonly watch: SenderWatch;
  readonly clock: BenchClock;
  readonly state: () => JobState;
  /** What keeps the box from measuring a sender now. */
  readonly hindrance: () => Refused | undefined;
  /** Takes the box from whoever else has it, or tells who drives it. */
  readonly claim: () => Refused | undefined;
  /** Adds to the journal later, in the desk's turn. */
  readonly record: (body: EventBody) => void;
};

/** What the watch makes of a command: events for the journal at once, or nothing and work that goes on by itself. */
export const decideWatch = (
  door: WatchDoor,
  command: WatchCommand,
  given: Given | undefined,
): EventBody[] | Refused => {
  const { watch } = door;
  switch (command.kind) {
    case 'pause-watch':
      watch.pause('paused by hand');
      return [];
    case 'end-watch':
      watch.end();
      return [];
    case 'take-watched-point': {
      const point = watch.take(command);
      return point.kind === 'refused' ? point : [point];
    }
    case 'watch-sender': {
      const hindrance = notNow(door, command.senderId) ?? door.claim();
      if (hindrance !== undefined) return hindrance;
      watch.start(command.senderId);
      return [];
    }
    case 'check-self-heating':
      return startHeating(door, command, given);
  }
};

const notNow = (door: WatchDoor, senderId: string): Refused | undefined => {
  const state = door.state();
  if (!state.senders.some((each) => each.senderId === senderId))
    return refuse('NO_SUCH_ENTRY', `there is no sender "${senderId}" in this job; describe it first`);
  return senderHindrance(state) ?? door.hindrance();
};

const startHeating = (
  door: WatchDoor,
  command: CommandOf<'check-self-heating'>,
  given: Given | undefined,
): EventBody[] | Refused => {
  const hindrance = notNow(door, command.senderId);
  if (hindrance !== undefined) return hindrance;
  if (door.state().gauge.quantity !== 'temperature') {
    return refuse(
      'HEATING_NOT_HERE',
      'only a temperature sender shows its own heat; a sender of a tank never gets the large current',
    );
  }
  const taken = door.claim();
  if (taken !== undefined) return taken;
  void door.watch.heat(command.senderId, async (signal, show) => {
    const { watch, clock } = door;
    const body = await checkSelfHeating({ watch, clock, signal, show }, command);
    if (body.kind === 'refused') return body;
    for (const each of withGiven([body], given, command)) door.record(each);
    return undefined;
  });
  return [];
};
