import type { TrimShutWhy } from '../schema/chain-shapes';
import type { AsFound, JobState } from '../state/state';

/**
 * Why nothing may be chosen in Trim: a resistor would hide the fault. Undefined where it may: on a bench, after a chain
 * test that agrees with what was found, or where somebody signed for it since.
 */
export const trimShut = (state: JobState): TrimShutWhy | undefined => {
  if (state.place === 'bench') return undefined;
  const why = whyShut(state);
  return why === undefined || isSignedFor(state) ? undefined : why;
};

const whyShut = ({ asFound, chainTested, conclusion }: JobState): TrimShutWhy | undefined => {
  const testedN = chainTested?.n ?? 0;
  const isFault = conclusion?.finding.endsWith('-fault') === true && conclusion.n > testedN;
  if (isFault) return 'finding';
  const newest = asFound.at(-1);
  if (newest === undefined) return 'as-found';
  if (chainTested === undefined || newest.n > chainTested.n) return 'chain';
  return chainTested.faultRemains ? 'fault-remains' : undefined;
};

/** A signature is for what was known when it was given. */
const isSignedFor = ({ trimSigned, asFound, chainTested, conclusion }: JobState): boolean => {
  const newest = Math.max(asFound.at(-1)?.n ?? 0, chainTested?.n ?? 0, conclusion?.n ?? 0);
  return trimSigned !== undefined && trimSigned.n > newest;
};

/** As-found readings that a chain can be tested by: off the stops, beside a reference that says how sure it is. */
export const chainReadings = ({ asFound }: Pick<JobState, 'asFound'>): readonly AsFound[] =>
  asFound.filter(
    (each) =>
      each.atStop === undefined && each.reference !== undefined && (each.referenceUncertainty ?? 0) > 0,
  );
