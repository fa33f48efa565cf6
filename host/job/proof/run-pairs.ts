import type { JobState, ProofPair } from '../state/state';
import { provingPairs, tooSoon } from './proof';

/** Pairs that were run and count, each on a needle that had come to rest: what is substituted tells nothing of the sender. */
export const runPairs = (state: JobState): readonly ProofPair[] =>
  provingPairs(state).filter((pair) => pair.method === 'run' && tooSoon(state, pair) === undefined);

/** What the pairs said of the sender, while it is still these pairs that say it; undefined before, and after another. */
export const estimateNow = (state: JobState): JobState['reestimated'] => {
  const { reestimated } = state;
  const ids = runPairs(state).map(({ pairId }) => pairId);
  return reestimated !== undefined && ids.length > 0 && ids.join() === reestimated.pairIds.join()
    ? reestimated
    : undefined;
};
