import type { Refused } from '../../core/result';
import { refuse } from '../../refusals';
import { withGiven, type CommandOf, type EventBody, type Given, type JobState } from '../../job';
import type { BenchClock } from '../clock';
import { senderHindrance } from '../box/hindrances';
import { checkSelfHeating } from '../sender/self-heating-check';
import type { SenderWatch } from '../sender/sender-watch';

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

export type WatchTools = {
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
  tools: WatchTools,
  command: WatchCommand,
  given: Given | undefined,
): EventBody[] | Refused => {
  const { watch } = tools;
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
      const hindrance = notNow(tools, command.senderId) ?? tools.claim();
      if (hindrance !== undefined) return hindrance;
      watch.start(command.senderId);
      return [];
    }
    case 'check-self-heating':
      return startHeating(tools, command, given);
  }
};

const notNow = (tools: WatchTools, senderId: string): Refused | undefined => {
  const state = tools.state();
  if (!state.senders.some((each) => each.senderId === senderId))
    return refuse('NO_SUCH_ENTRY', { what: 'sender', id: senderId });
  return senderHindrance(state) ?? tools.hindrance();
};

const startHeating = (
  tools: WatchTools,
  command: CommandOf<'check-self-heating'>,
  given: Given | undefined,
): EventBody[] | Refused => {
  const hindrance = notNow(tools, command.senderId);
  if (hindrance !== undefined) return hindrance;
  if (tools.state().gauge.quantity !== 'temperature') {
    return refuse('HEATING_NOT_HERE');
  }
  const taken = tools.claim();
  if (taken !== undefined) return taken;
  void tools.watch.heat(command.senderId, async (signal, show) => {
    const { watch, clock } = tools;
    const body = await checkSelfHeating({ watch, clock, signal, show }, command);
    if (body.kind === 'refused') return body;
    for (const each of withGiven([body], given, command)) tools.record(each);
    return undefined;
  });
  return [];
};
