import { effectiveEvents } from '../state/effective';
import type { JobEvent } from '../schema/events';
import type { Conclusion, JobState } from '../state/state';

/** Faults outside gauge and sender: the check is not done while one stands. */
export const isFaultFound = (finding: Conclusion['finding']): boolean => finding.endsWith('-fault');

type Said = Pick<JobState, 'measurements' | 'asFound' | 'answers'>;

/**
 * The job with only what was measured and answered since the last fault was found: once it is put right, what was said
 * before says nothing of how things are now.
 */
export const sinceFault = <Facts extends Said>(facts: Facts, events: readonly JobEvent[]): Facts => {
  const standing = effectiveEvents(events);
  const fault = standing
    .filter((each) => each.kind === 'check-concluded' && isFaultFound(each.finding))
    .at(-1);
  if (fault === undefined) return facts;
  const answered = standing.flatMap((each): (readonly [string, string])[] =>
    each.kind === 'check-answered' && each.n > fault.n ? [[each.question, each.answer]] : [],
  );
  return {
    ...facts,
    measurements: facts.measurements.filter((each) => each.n > fault.n),
    asFound: facts.asFound.filter((each) => each.n > fault.n),
    answers: Object.fromEntries<string>(answered),
  };
};
