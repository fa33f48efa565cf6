import { useEffect, useState } from 'preact/hooks';
import type { JobState } from '../../job/state/state';
import type { JobConnection } from '../connection/job-connection';

/** The states of several jobs as they are now; drawn again when any of them changes. */
export function useStates(jobs: readonly JobConnection[]): readonly (JobState | undefined)[] {
  const now = (): readonly (JobState | undefined)[] => jobs.map((job) => job.state.get());
  const [states, setStates] = useState(now);
  useEffect(() => {
    setStates(now());
    const leaving = jobs.map((job) => job.state.subscribe(() => setStates(now())));
    return () => leaving.forEach((leave) => leave());
  }, [jobs]);
  return states;
}
