import { effectiveFromNewest, isUndoable } from './effective';
import type { EventKind, JobEvent } from '../schema/events';
import type { JobState } from './state';

/** What is entered together is taken back together: the newest first. */
export type UndoGroup =
  | 'check'
  | 'conclusion'
  | 'sweep'
  | 'sender'
  | 'sender-points'
  | 'trim'
  | 'proof'
  | 'job';

const GROUP_OF: Readonly<Partial<Record<EventKind, UndoGroup>>> = {
  'check-answered': 'check',
  'check-measured': 'check',
  'check-tested': 'check',
  'check-skipped': 'check',
  'repair-made': 'check',
  'as-found': 'check',
  'check-concluded': 'conclusion',
  reading: 'sweep',
  'needle-seen': 'sweep',
  'needle-noted': 'sweep',
  'reading-struck': 'sweep',
  'reading-restored': 'sweep',
  'step-skipped': 'sweep',
  'sweep-shortened': 'sweep',
  'sender-described': 'sender',
  'sender-point': 'sender-points',
  'sender-point-struck': 'sender-points',
  'self-heating': 'sender-points',
  'working-current': 'sender-points',
  'chain-tested': 'trim',
  'trim-signed': 'trim',
  'trim-requested': 'trim',
  'trim-chosen': 'trim',
  'network-fitted': 'proof',
  'proof-limit': 'proof',
  'proof-rule': 'proof',
  'proof-pair': 'proof',
  'proof-pair-struck': 'proof',
  'job-changed': 'job',
  'adjustment-made': 'job',
  note: 'job',
};

export const undoGroupOf = (event: JobEvent): UndoGroup | undefined => GROUP_OF[event.kind];

/** The newest entry of one person that still counts and can be taken back; of one group, or of all. */
export const ownNewest = (
  events: readonly JobEvent[],
  by: string,
  group?: UndoGroup,
): JobEvent | undefined => {
  for (const event of effectiveFromNewest(events)) {
    const isOwn = event.by === by && isUndoable(event) && event.kind !== 'undone';
    if (isOwn && (group === undefined || undoGroupOf(event) === group)) return event;
  }
  return undefined;
};

const SHOWN_DIGITS = 4;
const figure = (value: number): string => String(Number(value.toPrecision(SHOWN_DIGITS)));

const PLAIN_WORDS: Readonly<Partial<Record<EventKind, string>>> = {
  'step-skipped': 'your skipping of a step',
  'sweep-shortened': 'your short way',
  'reading-struck': 'your striking of a reading',
  'reading-restored': 'your bringing back of a reading',
  'check-concluded': 'your conclusion of the check',
  'check-skipped': 'your leaving out of a test',
  'repair-made': 'what you said was mended',
};

/** What was taken back, in the unit the state is shown in: "your reading 83 degC at 120 ohm". */
export const entryWords = (before: JobState, event: JobEvent): string => {
  const { unit } = before.gauge;
  if (event.kind === 'reading') {
    const reading = before.readings.find(({ n }) => n === event.n)?.reading ?? event.reading;
    return `your reading ${figure(reading)} ${unit} at ${figure(event.resistanceOhm)} ohm`;
  }
  if (event.kind === 'as-found') {
    const found = before.asFound.find(({ n }) => n === event.n)?.indicated ?? event.indicated;
    return `your as-found reading ${figure(found)} ${unit}, ${event.state}`;
  }
  if (event.kind === 'needle-noted') return `your reading ${figure(event.reading)} ${unit}`;
  if (event.kind === 'needle-seen')
    return `your answer "${event.needle}" at ${figure(event.resistanceOhm)} ohm`;
  if (event.kind === 'check-answered') return `your answer "${event.answer}" to "${event.question}"`;
  if (event.kind === 'check-measured') return `your measurement ${figure(event.value)} (${event.what})`;
  if (event.kind === 'check-tested') return `your reading ${figure(event.value)} (${event.test})`;
  if (event.kind === 'sender-point') return `your sender point at ${figure(event.resistanceOhm)} ohm`;
  return PLAIN_WORDS[event.kind] ?? 'your last entry';
};
