import type { Refused } from '../../core/result';
import { refuse } from '../../refusals';
import { foldJob, foldNext, type CommandOf, type EventBody, type JobEvent, type JobState } from '../../job';
import { nextId, noSuch, struck, type Decision } from './decision';

type Job = { readonly state: JobState; readonly events: readonly JobEvent[] };
type Described = Extract<EventBody, { kind: 'sender-described' }>;

/** Two screens that add a sender at once get two: an id that was ever used, taken back or not, is not given again. */
const freshSenderId = (events: readonly JobEvent[]): string => {
  const used = new Set(events.flatMap((event) => ('senderId' in event ? [event.senderId] : [])));
  let number = 1;
  while (used.has(`sender-${number}`)) number += 1;
  return `sender-${number}`;
};

type Units = Pick<JobState, 'gauge' | 'senders'>;
const unitOf = ({ gauge, senders }: Units, senderId: string): string =>
  senders.find((each) => each.senderId === senderId)?.unit ?? gauge.unit;

const heldIn = (state: JobState) => [...state.senderPoints, ...state.selfHeating];

/**
 * What is kept of a sender is kept in its unit, so the unit must not change under it: not by a new description, nor by
 * taking one back, nor by bringing a point back under another. Refuses SENDER_UNIT_HELD.
 */
const relabelled = ({ state, events }: Job, after: JobState): Refused | undefined => {
  const held = new Set(heldIn(state).map((each) => each.n));
  for (const { n, senderId } of heldIn(after)) {
    const whenGiven = held.has(n) ? state : (foldJob(events.slice(0, n - 1)) ?? state);
    const [from, to] = [unitOf(whenGiven, senderId), unitOf(after, senderId)];
    if (from === to) continue;
    const title = [...state.senders, ...after.senders].find((each) => each.senderId === senderId)?.title;
    return refuse('SENDER_UNIT_HELD', { title: title ?? senderId, from, to });
  }
  return undefined;
};

/** What can change what a sender's numbers mean. */
export const touchesSenders = ({ kind }: JobEvent): boolean =>
  kind.startsWith('sender') || kind === 'self-heating' || kind === 'job-changed' || kind === 'undone';

/** Of the journal only what bears on senders is folded: a long sweep says nothing of them. */
export const relabelledByUndo = (job: Job, undoes: number): Refused | undefined => {
  const { state, events } = job;
  const undone = { n: state.lastN + 1, at: state.lastAt, by: '-', kind: 'undone', undoes } as const;
  const ofSenders = events.filter((event) => event.kind === 'job-opened' || touchesSenders(event));
  const after = foldJob([...ofSenders, undone]);
  return after === undefined ? undefined : relabelled(job, after);
};

const describeSender = (job: Job, command: CommandOf<'describe-sender'>): Decision => {
  const { state, events } = job;
  const senderId = command.senderId ?? freshSenderId(events);
  const body: Described = { ...command, kind: 'sender-described', senderId };
  const after = foldNext(state, { ...body, n: state.lastN + 1, at: state.lastAt, by: '-' });
  return relabelled(job, after) ?? [body];
};

export type SenderCommand = CommandOf<
  | 'describe-sender'
  | 'add-sender-point'
  | 'import-sender-points'
  | 'strike-sender-point'
  | 'say-working-current'
>;

/** What a command about senders and their points adds to the journal, or why not. Pure. */
export const decideSender = (job: Job, command: SenderCommand): Decision => {
  const { state } = job;
  switch (command.kind) {
    case 'describe-sender':
      return describeSender(job, command);
    case 'add-sender-point':
      return [{ ...command, kind: 'sender-point', pointId: nextId('p', state.lastN) }];
    case 'import-sender-points':
      return command.points.map(({ row, ...point }, index) => ({
        kind: 'sender-point',
        pointId: nextId('p', state.lastN + index),
        senderId: command.senderId,
        ...point,
        ...(command.ohmmeter === undefined ? {} : { ohmmeter: command.ohmmeter }),
        source: command.source,
        remark: `${command.from}, row ${row}`,
      }));
    case 'say-working-current':
      return state.senders.some((each) => each.senderId === command.senderId)
        ? [{ ...command, kind: 'working-current' }]
        : noSuch('sender', command.senderId);
    case 'strike-sender-point': {
      const { pointId, reason } = command;
      const point = state.senderPoints.find((each) => each.pointId === pointId);
      return struck(point, noSuch('sender point', pointId), { kind: 'sender-point-struck', pointId, reason });
    }
  }
};
