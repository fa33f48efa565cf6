import type { Draft } from './draft';
import { kept } from './entries';
import type { EventOf } from '../schema/events';

export type ProgressEvent = EventOf<
  | 'box-connected'
  | 'box-lost'
  | 'safety-confirmed'
  | 'safety-lapsed'
  | 'sweep-started'
  | 'sweep-extended'
  | 'sweep-shortened'
  | 'reading'
  | 'needle-seen'
  | 'needle-noted'
  | 'reading-struck'
  | 'reading-restored'
  | 'step-skipped'
  | 'sweep-paused'
  | 'sweep-resumed'
  | 'sweep-finished'
  | 'taken-over'
  | 'stopped'
  | 'tripped'
  | 'trip-cleared'
  | 'answer-superseded'
>;

const needleSeen = (draft: Draft, event: EventOf<'needle-seen'>): void => {
  const { n, resistanceOhm, uncertaintyOhm, needle } = event;
  draft.plain.attending = event.by;
  draft.sweeps.addSeen(event.stepId, { n, resistanceOhm, uncertaintyOhm, needle });
};

const noted = (draft: Draft, event: EventOf<'needle-noted'>): void => {
  draft.plain.attending = event.by;
  draft.sweeps.note(kept(event));
};

const started = (draft: Draft, event: EventOf<'sweep-started'>): void => {
  draft.plain.attending = event.by;
  draft.sweeps.start(event);
};

/** Only one sweep runs: whatever else was running is paused. A finished one is re-opened for what was taken back. */
const resumed = (draft: Draft, event: EventOf<'sweep-resumed'>): void => {
  draft.plain.attending = event.by;
  draft.sweeps.pauseRunning('another sweep was resumed');
  draft.sweeps.setStatus(event.sweepId, { kind: 'running' });
};

const read = (draft: Draft, event: EventOf<'reading'>): void => {
  draft.plain.attending = event.by;
  draft.readings.add(kept(event));
  draft.sweeps.setStep(event.stepId, { kind: 'read', readingId: event.readingId });
};

const skipped = (draft: Draft, { stepId, reason }: EventOf<'step-skipped'>): void =>
  draft.sweeps.setStep(stepId, { kind: 'skipped', ...(reason === undefined ? {} : { reason }) });

const tripped = (draft: Draft, event: EventOf<'tripped'>): void => {
  const trip = kept(event);
  draft.sweeps.pauseRunning(event.reason);
  draft.plain.trip = trip;
  draft.grown.trips.push(trip);
};

const boxConnected = (
  { plain }: Draft,
  { boxSerial, firmware, simulated }: EventOf<'box-connected'>,
): void => {
  plain.simulated ||= simulated;
  plain.box = { boxSerial, firmware, simulated };
};

const confirmed = ({ plain, grown }: Draft, event: EventOf<'safety-confirmed'>): void => {
  const ran = event.confirmation === 'engine-runs' || event.confirmation === 'two-aboard';
  const standing = plain.confirmations.filter((each) => !(ran && each === 'engine-cold'));
  plain.confirmations = [...new Set([...standing, event.confirmation])];
  grown.saidForSafety.push(kept(event));
};

const lapsed = ({ plain }: Draft, { confirmation }: EventOf<'safety-lapsed'>): void => {
  plain.confirmations = plain.confirmations.filter((each) => each !== confirmation);
};

/** The part of the fold that follows the sweep and the box; see `foldJob`. */
export const foldProgress = (draft: Draft, event: ProgressEvent): void => {
  switch (event.kind) {
    case 'box-connected':
      return boxConnected(draft, event);
    case 'box-lost':
      return draft.sweeps.pauseRunning(event.reason);
    case 'safety-confirmed':
      return confirmed(draft, event);
    case 'safety-lapsed':
      return lapsed(draft, event);
    case 'sweep-started':
      return started(draft, event);
    case 'sweep-extended':
      return draft.sweeps.extend(event);
    case 'sweep-shortened':
      return draft.sweeps.shorten(event);
    case 'reading':
      return read(draft, event);
    case 'needle-seen':
      return needleSeen(draft, event);
    case 'needle-noted':
      return noted(draft, event);
    case 'reading-struck':
      return draft.readings.strike(event.readingId, event.reason);
    case 'reading-restored':
      return draft.readings.change(event.readingId, ({ struckBecause, ...counted }) => counted);
    case 'step-skipped':
      return skipped(draft, event);
    case 'sweep-paused':
      return draft.sweeps.pause(event.sweepId, event.reason);
    case 'sweep-resumed':
      return resumed(draft, event);
    case 'sweep-finished':
      return draft.sweeps.setStatus(event.sweepId, { kind: 'finished', complete: event.complete });
    case 'taken-over':
      draft.plain.attending = event.by;
      return;
    case 'stopped':
      return draft.sweeps.pauseRunning(`stopped by ${event.by}`);
    case 'tripped':
      return tripped(draft, event);
    case 'trip-cleared':
      delete draft.plain.trip;
      return;
    case 'answer-superseded':
      draft.grown.superseded.push(kept(event));
      return;
  }
};
