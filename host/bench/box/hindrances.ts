import type { Refused } from '../../core/result';
import { refuse } from '../../refusals';
import type { CommandOf, JobState } from '../../job';
import {
  asFoundWork,
  confirmations,
  ENGINE_CONTROLLER,
  proofWork,
  SENDER_QUESTION,
  stillToConfirm,
  type RiskyWork,
} from '../../job/state/confirmations';
import type { Box } from './box';
import type { Vital } from './vital';

/** What keeps the output open, whatever a person wants. */
export const drivingHindrance = (
  box: Box,
  state: JobState,
  vital: Vital | undefined,
): Refused | undefined => {
  if (!box.isLive) {
    if (box.whyNone !== undefined) return box.whyNone;
    const why = box.link.problem?.message;
    return refuse('BOX_NOT_LIVE', why === undefined ? {} : { why });
  }
  // Before its first heartbeat only its greeting tells.
  const isTripped = vital === undefined ? box.greetedTripped : vital.state === 'tripped';
  if (state.trip !== undefined || isTripped) {
    return refuse('TRIPPED');
  }
  return unsaid('sweep', state);
};

/** What must be said before anything is put on by hand. */
export const handHindrance = (state: JobState): Refused | undefined => unsaid('by-hand', state);

/** The ohmmeter needs the output open and the box to itself. */
export const sourceHindrance = (box: Box, isDriving: boolean): Refused | undefined => {
  if (!box.isLive) return box.whyNone ?? refuse('BOX_NOT_LIVE', {});
  return isDriving ? refuse('SWEEP_RUNNING') : undefined;
};

/** What must be said before a sender is measured in this job as it is now. */
export const senderHindrance = (state: JobState): Refused | undefined => unsaid('sender', state);

/** What must be said before the sender's wire is parted. */
export const wireHindrance = (state: JobState): Refused | undefined => unsaid('sender-wire', state);

/** What must be said before anything is read for the proof, by what the engine does meanwhile. */
export const proofHindrance = (
  state: JobState,
  pair: Pick<CommandOf<'add-proof-pair'>, 'engine' | 'referenceKind'>,
): Refused | undefined =>
  proofWork(state, pair)
    .map((work) => unsaid(work, state))
    .find((each) => each !== undefined);

/** What must be said before the dash is opened, and before anything is read with the engine running. */
export const dashHindrance = (state: JobState): Refused | undefined => unsaid('dash', state);
export const engineHindrance = (state: JobState): Refused | undefined => unsaid('engine-runs', state);

/** What must be said before a reading as found is taken in this natural state. */
export const asFoundHindrance = (state: JobState, natural: string): Refused | undefined =>
  asFoundWork(state, natural)
    .map((work) => unsaid(work, state))
    .find((each) => each !== undefined);

/** The answer that closes all work on a sender for good: no gate opens a sensor of the engine's. */
export const engineSensor = ({ answers, place }: JobState): Refused | undefined =>
  place === 'car' && answers[SENDER_QUESTION] === ENGINE_CONTROLLER ? refuse('ENGINE_SENSOR') : undefined;

const ON_THE_SENDER: readonly RiskyWork[] = ['sender-wire', 'sender', 'sweep', 'by-hand'];

const unsaid = (work: RiskyWork, state: JobState): Refused | undefined => {
  const closed = ON_THE_SENDER.includes(work) ? engineSensor(state) : undefined;
  if (closed !== undefined) return closed;
  const [first] = stillToConfirm(work, state);
  return first === undefined
    ? undefined
    : refuse('CONFIRM_FIRST', { confirmation: first, asks: confirmations[first].asks });
};
