import { effectiveEvents } from './effective';
import { kept, strike } from './entries';
import type { EventOf, JobEvent } from './events';
import { foldProgress } from './fold-sweep';
import type { JobState } from './state';

const opened = (event: EventOf<'job-opened'>): JobState => ({
  jobId: event.jobId,
  title: event.title,
  gauge: event.gauge,
  vehicle: event.vehicle,
  place: event.place,
  ...(event.complaint === undefined ? {} : { complaint: event.complaint }),
  simulated: event.simulated,
  openedAt: event.at,
  lastN: event.n,
  lastAt: event.at,
  answers: {},
  measurements: [],
  asFound: [],
  confirmations: [],
  saidForSafety: [],
  sweeps: [],
  readings: [],
  trips: [],
  senders: [],
  senderPoints: [],
  selfHeating: [],
  proofPairs: [],
  records: [],
  notes: [],
  superseded: [],
  recovered: [],
});

const changed = (state: JobState, event: EventOf<'job-changed'>): JobState => ({
  ...state,
  ...(event.title === undefined ? {} : { title: event.title }),
  ...(event.gauge === undefined ? {} : { gauge: event.gauge }),
  ...(event.vehicle === undefined ? {} : { vehicle: event.vehicle }),
  ...(event.place === undefined ? {} : { place: event.place }),
  ...(event.complaint === undefined ? {} : { complaint: event.complaint }),
  ...(event.shownUnit === undefined ? {} : { shownUnit: event.shownUnit }),
});

/** A sender described again replaces its earlier description. */
const described = (state: JobState, event: EventOf<'sender-described'>): JobState => ({
  ...state,
  senders: [...state.senders.filter((each) => each.senderId !== event.senderId), kept(event)],
  ...(event.forTrim === true ? { trimSenderId: event.senderId } : {}),
});

/** Another choice is another network: what was said to be fitted is said anew. */
const chosen = ({ fitted, trimChosenFor, ...state }: JobState, event: EventOf<'trim-chosen'>): JobState => ({
  ...state,
  trimChosen: event.candidate,
  trimChosenN: event.n,
  ...(state.trimRequest === undefined ? {} : { trimChosenFor: state.trimRequest.senderId }),
});

const foldSender = (
  state: JobState,
  event: EventOf<'sender-described' | 'sender-point' | 'sender-point-struck' | 'self-heating'>,
): JobState => {
  switch (event.kind) {
    case 'sender-described':
      return described(state, event);
    case 'sender-point':
      return { ...state, senderPoints: [...state.senderPoints, kept(event)] };
    case 'sender-point-struck': {
      const senderPoints = strike(state.senderPoints, (p) => p.pointId === event.pointId, event.reason);
      return { ...state, senderPoints };
    }
    case 'self-heating':
      return { ...state, selfHeating: [...state.selfHeating, kept(event)] };
  }
};

const foldProof = (
  state: JobState,
  event: EventOf<'network-fitted' | 'proof-limit' | 'proof-pair' | 'proof-pair-struck'>,
): JobState => {
  switch (event.kind) {
    case 'network-fitted':
      return { ...state, fitted: kept(event) };
    case 'proof-limit':
      return { ...state, proofLimit: event.limit };
    case 'proof-pair':
      return { ...state, proofPairs: [...state.proofPairs, kept(event)] };
    case 'proof-pair-struck': {
      const proofPairs = strike(state.proofPairs, (p) => p.pairId === event.pairId, event.reason);
      return { ...state, proofPairs };
    }
  }
};

const foldOne = (state: JobState, event: JobEvent): JobState => {
  switch (event.kind) {
    case 'job-opened':
    case 'undone':
      return state;
    case 'job-changed':
      return changed(state, event);
    case 'check-answered':
      return { ...state, answers: { ...state.answers, [event.question]: event.answer } };
    case 'check-measured':
      return { ...state, measurements: [...state.measurements, kept(event)] };
    case 'as-found':
      return { ...state, asFound: [...state.asFound, kept(event)] };
    case 'check-concluded':
      return { ...state, conclusion: kept(event) };
    case 'sender-described':
    case 'sender-point':
    case 'sender-point-struck':
    case 'self-heating':
      return foldSender(state, event);
    case 'trim-requested':
      return { ...state, trimRequest: event.options, trimSenderId: event.options.senderId };
    case 'trim-chosen':
      return chosen(state, event);
    case 'network-fitted':
    case 'proof-limit':
    case 'proof-pair':
    case 'proof-pair-struck':
      return foldProof(state, event);
    case 'record-made':
      return { ...state, records: [...state.records, kept(event)] };
    case 'note':
      return { ...state, notes: [...state.notes, kept(event)] };
    case 'journal-recovered':
      return { ...state, recovered: [...state.recovered, kept(event)] };
    case 'box-connected':
    case 'box-lost':
    case 'safety-confirmed':
    case 'safety-lapsed':
    case 'sweep-started':
    case 'sweep-extended':
    case 'reading':
    case 'needle-seen':
    case 'reading-struck':
    case 'reading-restored':
    case 'step-skipped':
    case 'sweep-paused':
    case 'sweep-resumed':
    case 'sweep-finished':
    case 'taken-over':
    case 'stopped':
    case 'tripped':
    case 'trip-cleared':
    case 'answer-superseded':
      return foldProgress(state, event);
  }
};

/** Adds one event that is not an `undone`; with an `undone`, fold the whole journal again. */
export const foldNext = (state: JobState, event: JobEvent): JobState => ({
  ...foldOne(state, event),
  lastN: event.n,
  lastAt: event.at,
});

/**
 * The state of a job: a pure function of its journal and of nothing else. Events that name something unknown (a reading
 * that was taken back, say) change nothing.
 * Refuses: an empty journal, or one that does not start with `job-opened`, by answering undefined.
 */
export const foldJob = (events: readonly JobEvent[]): JobState | undefined => {
  const [first] = events;
  if (first?.kind !== 'job-opened') return undefined;
  const folded = effectiveEvents(events).slice(1).reduce(foldNext, opened(first));
  const last = events.at(-1) ?? first;
  return { ...folded, lastN: last.n, lastAt: last.at };
};
