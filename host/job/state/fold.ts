import type { TestName } from '../../core/diagnosis/names';
import { draftOf, stateOf, type Draft } from './draft';
import { effectiveEvents } from './effective';
import { kept } from './entries';
import type { EventOf, JobEvent } from '../schema/events';
import { foldSender } from './fold-sender';
import { foldProgress } from './fold-sweep';
import type { JobState } from './state';

const opened = (event: EventOf<'job-opened'>): JobState => ({
  jobId: event.jobId,
  title: event.title,
  gauge: event.gauge,
  vehicle: event.vehicle,
  place: event.place,
  ...(event.complaint === undefined ? {} : { complaint: event.complaint }),
  ...(event.particulars === undefined ? {} : { particulars: event.particulars }),
  simulated: event.simulated,
  openedAt: event.at,
  lastN: event.n,
  lastAt: event.at,
  answers: {},
  measurements: [],
  tested: [],
  skippedTests: [],
  repairs: [],
  asFound: [],
  confirmations: [],
  saidForSafety: [],
  sweeps: [],
  readings: [],
  trips: [],
  senders: [],
  senderPoints: [],
  selfHeating: [],
  workingCurrents: [],
  proofLimits: [],
  proofPairs: [],
  drifts: [],
  adjustments: [],
  photographs: [],
  records: [],
  notes: [],
  superseded: [],
  recovered: [],
});

/** What is kept of a change is what was said; what was not said stays. */
const changed = (
  { plain }: Draft,
  { title, gauge, vehicle, place, complaint, particulars, shownUnit }: EventOf<'job-changed'>,
): void => {
  if (title !== undefined) plain.title = title;
  if (gauge !== undefined) plain.gauge = gauge;
  if (vehicle !== undefined) plain.vehicle = vehicle;
  if (place !== undefined) plain.place = place;
  if (complaint !== undefined) plain.complaint = complaint;
  if (particulars !== undefined) plain.particulars = particulars;
  if (shownUnit !== undefined) plain.shownUnit = shownUnit;
};

/** Another choice is another network: what was said to be fitted is said anew. */
const chosen = ({ plain }: Draft, event: EventOf<'trim-chosen'>): void => {
  plain.trimChosen = event.candidate;
  plain.trimChosenN = event.n;
  delete plain.fitted;
  delete plain.trimChosenFor;
  if (plain.trimRequest !== undefined) plain.trimChosenFor = plain.trimRequest.senderId;
};

type CheckEvent = EventOf<
  | 'check-answered'
  | 'check-measured'
  | 'check-tested'
  | 'check-skipped'
  | 'repair-made'
  | 'as-found'
  | 'check-concluded'
>;

/** After these nobody can call the engine cold. */
const ENGINE_RAN: readonly TestName[] = ['as-found-warm', 'sender-warm'];

const foldCheck = ({ plain, grown, answers }: Draft, event: CheckEvent): void => {
  switch (event.kind) {
    case 'check-answered':
      answers.set(event.question, event.answer);
      return;
    case 'check-measured':
      grown.measurements.push(kept(event));
      return;
    case 'check-tested':
      grown.tested.push(kept(event));
      if (ENGINE_RAN.includes(event.test))
        plain.confirmations = plain.confirmations.filter((each) => each !== 'engine-cold');
      return;
    case 'check-skipped':
      grown.skippedTests.push(kept(event));
      return;
    case 'repair-made':
      grown.repairs.push(kept(event));
      return;
    case 'as-found':
      grown.asFound.push(kept(event));
      return;
    case 'check-concluded':
      plain.conclusion = kept(event);
      return;
  }
};

const TRIM_EVENTS = [
  'chain-tested',
  'trim-signed',
  'trim-requested',
  'trim-chosen',
  'network-fitted',
  'proof-limit',
  'proof-rule',
  'proof-pair',
  'proof-pair-struck',
  'sender-reestimated',
  'drift-checked',
] as const;
type TrimEvent = EventOf<(typeof TRIM_EVENTS)[number]>;
const isTrimEvent = (event: JobEvent): event is TrimEvent => TRIM_EVENTS.some((kind) => kind === event.kind);

/** A drive has its end, and an engine that ran is cold no more. */
const engineOver = ({ plain }: Draft, engine: EventOf<'proof-pair'>['engine']): void => {
  plain.confirmations = plain.confirmations.filter(
    (each) =>
      !(each === 'two-aboard' && engine !== 'driving') &&
      !(each === 'engine-cold' && (engine === 'running' || engine === 'driving')),
  );
};

const foldTrim = (draft: Draft, event: TrimEvent): void => {
  switch (event.kind) {
    case 'chain-tested':
      draft.plain.chainTested = kept(event);
      return;
    case 'trim-signed':
      draft.plain.trimSigned = kept(event);
      return;
    case 'trim-requested':
      draft.plain.trimRequest = event.options;
      draft.plain.trimSenderId = event.options.senderId;
      return;
    case 'trim-chosen':
      return chosen(draft, event);
    case 'network-fitted':
      draft.plain.fitted = kept(event);
      return;
    case 'proof-limit':
      draft.plain.proofLimit = event.limit;
      draft.grown.proofLimits.push(kept(event));
      return;
    case 'proof-rule':
      draft.plain.proofRule = kept(event);
      return;
    case 'proof-pair':
      engineOver(draft, event.engine);
      return draft.proofPairs.add(kept(event));
    case 'proof-pair-struck':
      return draft.proofPairs.change(event.pairId, (pair) => ({
        ...pair,
        struckBecause: event.reason,
        struckN: event.n,
      }));
    case 'sender-reestimated':
      draft.plain.reestimated = kept(event);
      return;
    case 'drift-checked':
      engineOver(draft, event.engine);
      draft.grown.drifts.push(kept(event));
      return;
  }
};

type SheetEvent = EventOf<
  | 'job-changed'
  | 'adjustment-made'
  | 'photograph-added'
  | 'photograph-struck'
  | 'record-made'
  | 'note'
  | 'journal-recovered'
>;

const foldSheet = (draft: Draft, event: SheetEvent): void => {
  const { grown, photographs } = draft;
  switch (event.kind) {
    case 'job-changed':
      return changed(draft, event);
    case 'adjustment-made':
      grown.adjustments.push(kept(event));
      return;
    case 'photograph-added':
      return photographs.add(kept(event));
    case 'photograph-struck':
      return photographs.strike(event.photographId, event.reason);
    case 'record-made':
      grown.records.push(kept(event));
      return;
    case 'note':
      grown.notes.push(kept(event));
      return;
    case 'journal-recovered':
      grown.recovered.push(kept(event));
      return;
  }
};

const foldOne = (draft: Draft, event: JobEvent): void => {
  if (event.kind === 'job-opened' || event.kind === 'undone') return;
  if (isTrimEvent(event)) return foldTrim(draft, event);
  switch (event.kind) {
    case 'check-answered':
    case 'check-measured':
    case 'check-tested':
    case 'check-skipped':
    case 'repair-made':
    case 'as-found':
    case 'check-concluded':
      return foldCheck(draft, event);
    case 'sender-described':
    case 'sender-point':
    case 'sender-point-struck':
    case 'self-heating':
    case 'working-current':
      return foldSender(draft, event);
    case 'job-changed':
    case 'adjustment-made':
    case 'photograph-added':
    case 'photograph-struck':
    case 'record-made':
    case 'note':
    case 'journal-recovered':
      return foldSheet(draft, event);
    case 'box-connected':
    case 'box-lost':
    case 'safety-confirmed':
    case 'safety-lapsed':
    case 'sweep-started':
    case 'sweep-extended':
    case 'sweep-shortened':
    case 'reading':
    case 'needle-seen':
    case 'needle-noted':
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
      return foldProgress(draft, event);
  }
};

/** One event a step, so that whoever folds a long journal can do other things in between. */
function* foldingOn(state: JobState, events: readonly JobEvent[]): Generator<undefined, JobState> {
  const draft = draftOf(state);
  for (const event of events) {
    foldOne(draft, event);
    draft.plain.lastN = event.n;
    draft.plain.lastAt = event.at;
    yield undefined;
  }
  return stateOf(draft);
}

const atOnce = <Result>(steps: Generator<undefined, Result>): Result => {
  for (;;) {
    const { done, value } = steps.next();
    if (done === true) return value;
  }
};

const foldOn = (state: JobState, events: readonly JobEvent[]): JobState => atOnce(foldingOn(state, events));

/** Adds one event that is not an `undone`; with an `undone`, fold the whole journal again. */
export const foldNext = (state: JobState, event: JobEvent): JobState => foldOn(state, [event]);

/**
 * The state after the events that follow `state` in its journal. Undefined when one of them takes back something from
 * before them: then fold from further back.
 */
export const foldOnwards = (state: JobState, following: readonly JobEvent[]): JobState | undefined => {
  const last = following.at(-1);
  if (last === undefined) return state;
  const reachesBack = (event: JobEvent): boolean => event.kind === 'undone' && event.undoes <= state.lastN;
  if (following.some(reachesBack)) return undefined;
  return { ...foldOn(state, effectiveEvents(following)), lastN: last.n, lastAt: last.at };
};

/** `foldJob`, one event a step. */
export function* foldingJob(events: readonly JobEvent[]): Generator<undefined, JobState | undefined> {
  const [first] = events;
  if (first?.kind !== 'job-opened') return undefined;
  const folded = yield* foldingOn(opened(first), effectiveEvents(events).slice(1));
  const last = events.at(-1) ?? first;
  return { ...folded, lastN: last.n, lastAt: last.at };
}

/**
 * The state of a job: a pure function of its journal and of nothing else. Events that name something unknown (a reading
 * that was taken back, say) change nothing.
 * Refuses: an empty journal, or one that does not start with `job-opened`, by answering undefined.
 */
export const foldJob = (events: readonly JobEvent[]): JobState | undefined => atOnce(foldingJob(events));
