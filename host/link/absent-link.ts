import { linkProblem } from './problems';
import type { BoxLink } from './types';

/** A link to no box at all, for work on a job at which nothing is plugged in. It never becomes live. */
export function absentLink(): BoxLink {
  const problem = linkProblem('LINK_NO_BOX', { title: '' });
  return {
    state: 'closed',
    greeting: undefined,
    problem,
    request: () => Promise.resolve({ kind: 'link-failed', ...problem }),
    subscribe: () => () => undefined,
    close: () => Promise.resolve(),
  };
}
