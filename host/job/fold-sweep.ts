import { kept, strike } from './entries';
import type { EventOf } from './events';
import type { JobState, Reading, StepState, Sweep, SweepStatus, SweepStep } from './state';
import type { Step } from './sweep';

export type ProgressEvent = EventOf<
  | 'box-connected'
  | 'box-lost'
  | 'safety-confirmed'
  | 'safety-lapsed'
  | 'sweep-started'
  | 'sweep-extended'
  | 'reading'
  | 'needle-seen'
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

const pending = (step: Step): SweepStep => ({
  ...step,
  state: { kind: 'pending' },
  seen: [],
});

const changeSweep = (state: JobState, sweepId: string, change: (sweep: Sweep) => Sweep): JobState => ({
  ...state,
  sweeps: state.sweeps.map((sweep) => (sweep.sweepId === sweepId ? change(sweep) : sweep)),
});

const withStatus = (state: JobState, sweepId: string, status: SweepStatus): JobState =>
  changeSweep(state, sweepId, (sweep) => ({ ...sweep, status }));

/** A finished sweep cannot be paused; resuming it re-opens it for the steps that were taken back. */
const paused = (state: JobState, event: EventOf<'sweep-paused'>): JobState =>
  changeSweep(state, event.sweepId, (sweep) =>
    sweep.status.kind === 'running' ? { ...sweep, status: { kind: 'paused', reason: event.reason } } : sweep,
  );

/** Only one sweep runs: whatever else was running is paused. */
const resumed = (state: JobState, event: EventOf<'sweep-resumed'>): JobState => ({
  ...withStatus(pauseRunning(state, 'another sweep was resumed'), event.sweepId, { kind: 'running' }),
  attending: event.by,
});

/** Whatever opened the output by itself leaves every running sweep paused: nothing is driven until a person says so. */
const pauseRunning = (state: JobState, reason: string): JobState => ({
  ...state,
  sweeps: state.sweeps.map((sweep) =>
    sweep.status.kind === 'running' ? { ...sweep, status: { kind: 'paused', reason } } : sweep,
  ),
});

const changeStep = (state: JobState, stepId: string, change: (step: SweepStep) => SweepStep): JobState => ({
  ...state,
  sweeps: state.sweeps.map((sweep) =>
    sweep.steps.some((step) => step.stepId === stepId)
      ? { ...sweep, steps: sweep.steps.map((step) => (step.stepId === stepId ? change(step) : step)) }
      : sweep,
  ),
});

const withStep = (state: JobState, stepId: string, stepState: StepState): JobState =>
  changeStep(state, stepId, (step) => ({ ...step, state: stepState }));

const needleSeen = (state: JobState, event: EventOf<'needle-seen'>): JobState => {
  const { n, resistanceOhm, uncertaintyOhm, needle } = event;
  const seen = { n, resistanceOhm, uncertaintyOhm, needle };
  const noted = { ...state, attending: event.by };
  return changeStep(noted, event.stepId, (step) => ({ ...step, seen: [...step.seen, seen] }));
};

const started = (state: JobState, event: EventOf<'sweep-started'>): JobState => ({
  ...pauseRunning(state, 'another sweep was started'),
  attending: event.by,
  sweeps: [
    ...pauseRunning(state, 'another sweep was started').sweeps,
    {
      sweepId: event.sweepId,
      mode: event.mode,
      startedAt: event.at,
      fromOhm: event.fromOhm,
      toOhm: event.toOhm,
      refinementsLeft: event.refinements,
      settleMs: event.settleMs,
      steps: event.steps.map(pending),
      status: { kind: 'running' },
    },
  ],
});

const isRefinement = (step: Step): boolean => step.why === 'refine' || step.why === 'edge';

const extended = (sweep: Sweep, event: EventOf<'sweep-extended'>): Sweep => {
  const known = new Set(sweep.steps.map((step) => step.stepId));
  const added = event.steps.filter((step) => !known.has(step.stepId)).map(pending);
  // A refinement is one point of the curve, whether it is read on one leg or on both.
  const refined = new Set(added.filter(isRefinement).map((step) => JSON.stringify(step.aim))).size;
  const cut = sweep.steps.findIndex((step) => step.state.kind === 'pending');
  const at = event.place === 'end' || cut < 0 ? sweep.steps.length : cut;
  return {
    ...sweep,
    // A finished sweep is opened again by what is added to it, and waits for a person.
    status:
      sweep.status.kind === 'finished' && added.length > 0
        ? { kind: 'paused', reason: 'a point is to be read again' }
        : sweep.status,
    refinementsLeft: Math.max(0, sweep.refinementsLeft - refined),
    steps: [...sweep.steps.slice(0, at), ...added, ...sweep.steps.slice(at)],
  };
};

const restoreReading = (readings: readonly Reading[], readingId: string): Reading[] =>
  readings.map((reading) => {
    if (reading.readingId !== readingId) return reading;
    const { struckBecause, ...rest } = reading;
    return rest;
  });

const read = (state: JobState, event: EventOf<'reading'>): JobState => {
  const noted = { ...state, attending: event.by, readings: [...state.readings, kept(event)] };
  return withStep(noted, event.stepId, { kind: 'read', readingId: event.readingId });
};

const tripped = (state: JobState, event: EventOf<'tripped'>): JobState => {
  const trip = kept(event);
  return { ...pauseRunning(state, event.reason), trip, trips: [...state.trips, trip] };
};

const boxConnected = (state: JobState, event: EventOf<'box-connected'>): JobState => ({
  ...state,
  simulated: state.simulated || event.simulated,
  box: { boxSerial: event.boxSerial, firmware: event.firmware, simulated: event.simulated },
});

const confirmed = (state: JobState, event: EventOf<'safety-confirmed'>): JobState => ({
  ...state,
  confirmations: [...new Set([...state.confirmations, event.confirmation])],
  saidForSafety: [...state.saidForSafety, kept(event)],
});

const lapsed = (state: JobState, { confirmation }: EventOf<'safety-lapsed'>): JobState => ({
  ...state,
  confirmations: state.confirmations.filter((each) => each !== confirmation),
});

const tripCleared = (state: JobState): JobState => {
  const { trip, ...rest } = state;
  return rest;
};

const superseded = (state: JobState, event: EventOf<'answer-superseded'>): JobState => ({
  ...state,
  superseded: [...state.superseded, kept(event)],
});

/** The part of the fold that follows the sweep and the box; see `foldJob`. */
export const foldProgress = (state: JobState, event: ProgressEvent): JobState => {
  switch (event.kind) {
    case 'box-connected':
      return boxConnected(state, event);
    case 'box-lost':
      return pauseRunning(state, event.reason);
    case 'safety-confirmed':
      return confirmed(state, event);
    case 'safety-lapsed':
      return lapsed(state, event);
    case 'sweep-started':
      return started(state, event);
    case 'sweep-extended':
      return changeSweep(state, event.sweepId, (sweep) => extended(sweep, event));
    case 'reading':
      return read(state, event);
    case 'needle-seen':
      return needleSeen(state, event);
    case 'reading-struck':
      return {
        ...state,
        readings: strike(state.readings, (r) => r.readingId === event.readingId, event.reason),
      };
    case 'reading-restored':
      return { ...state, readings: restoreReading(state.readings, event.readingId) };
    case 'step-skipped':
      return withStep(state, event.stepId, {
        kind: 'skipped',
        ...(event.reason === undefined ? {} : { reason: event.reason }),
      });
    case 'sweep-paused':
      return paused(state, event);
    case 'sweep-resumed':
      return resumed(state, event);
    case 'sweep-finished':
      return withStatus(state, event.sweepId, { kind: 'finished', complete: event.complete });
    case 'taken-over':
      return { ...state, attending: event.by };
    case 'stopped':
      return pauseRunning(state, `stopped by ${event.by}`);
    case 'tripped':
      return tripped(state, event);
    case 'trip-cleared':
      return tripCleared(state);
    case 'answer-superseded':
      return superseded(state, event);
  }
};
