import type { Refused } from '../../core/result';
import { refuse } from '../../refusals';
import {
  effectiveEvents,
  isUndoable,
  ownNewest,
  undoGroupOf,
  type CommandOf,
  type JobEvent,
  type JobState,
} from '../../job';
import { wasOutside } from '../../job/proof/proof-struck';
import { relabelledByUndo, touchesSenders } from './decide-sender';
import type { Decision } from './decision';

type Asked = { readonly state: JobState; readonly events: readonly JobEvent[]; readonly by: string };

/** Whoever undoes means what he entered last, not what somebody else entered in between. */
const notMeant = ({ events, by }: Asked, event: JobEvent): Refused | undefined => {
  if (event.by !== by) {
    return refuse('NOT_YOURS', { by: event.by });
  }
  // Named by its figure: it is measured again when a later one speaks against it.
  if (event.kind === 'check-measured') return undefined;
  const group = undoGroupOf(event);
  const newest = group === undefined ? event : ownNewest(events, by, group);
  return newest === undefined || newest.n === event.n ? undefined : refuse('NOT_NEWEST');
};

/** What a proof was judged by, and what speaks against it, is not made unsaid: it is said anew, or struck with a reason. */
const heldByProof = ({ state, events }: Asked, event: JobEvent): Refused | undefined => {
  const meant = event.kind === 'undone' ? events.find((each) => each.n === event.undoes) : event;
  const pair = state.proofPairs.find((each) => each.n === event.n);
  if (event.kind === 'proof-pair' && pair !== undefined && wasOutside(state, pair))
    return refuse('OUTSIDE_STAYS');
  return meant?.kind === 'proof-limit' && state.proofPairs.some((each) => each.n > event.n)
    ? refuse('LIMIT_STAYS')
    : undefined;
};

/** Takes back the named entry, or the newest of whoever asks. Refuses what is somebody else's or no longer the newest. */
export const decideUndo = (asked: Asked, command: CommandOf<'undo'>): Decision => {
  const { state, events, by } = asked;
  const event =
    command.undoes === undefined
      ? ownNewest(events, by)
      : effectiveEvents(events).find((each) => each.n === command.undoes);
  if (event === undefined) return refuse('NOTHING_TO_UNDO');
  if (!isUndoable(event)) {
    return refuse('CANNOT_UNDO', { kind: event.kind });
  }
  return (
    notMeant(asked, event) ??
    heldByProof(asked, event) ??
    (touchesSenders(event) ? relabelledByUndo({ state, events }, event.n) : undefined) ?? [
      { kind: 'undone', undoes: event.n },
    ]
  );
};
