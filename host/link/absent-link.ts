import { linkProblem } from './problems';
import type { BoxLink, LinkProblem } from './types';

/** A link to no box at all, for work on a job at which nothing is plugged in, or nobody has said which. Never live. */
export function absentLink(problem: LinkProblem = linkProblem('LINK_NO_BOX', { title: '' })): BoxLink {
  return {
    state: 'closed',
    greeting: undefined,
    problem,
    request: () => Promise.resolve({ kind: 'link-failed', ...problem }),
    subscribe: () => () => undefined,
    close: () => Promise.resolve(),
  };
}
