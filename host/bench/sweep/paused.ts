import { runningSweep, type EventBody, type JobState } from '../../job';

/** Pauses the sweep that runs, if one does. */
export const pausedBodies = (state: JobState, reason: string): EventBody[] => {
  const sweep = runningSweep(state);
  return sweep === undefined ? [] : [{ kind: 'sweep-paused', sweepId: sweep.sweepId, reason }];
};
