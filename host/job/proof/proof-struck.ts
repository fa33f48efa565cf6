import { scaleOf } from '../schema/scale';
import type { JobState, ProofPair } from '../state/state';
import { wasOutsideOnce } from './verdict';

/** Two pairs nearer than this part of the scale are at one place. Common practice, no source. */
const ONE_PLACE_PART = 0.05;

export const isOnePlace = (
  { gauge }: Pick<JobState, 'gauge'>,
  one: Pick<ProofPair, 'reference'>,
  other: Pick<ProofPair, 'reference'>,
): boolean =>
  Math.abs(one.reference - other.reference) <= ONE_PLACE_PART * scaleOf(gauge.marks).span * (1 + 1e-9);

/** Pairs of the vehicle as it is left now, struck ones too. */
export const takenAsLeft = ({ fitted, proofPairs }: JobState): readonly ProofPair[] =>
  fitted === undefined
    ? []
    : proofPairs.filter((pair) => pair.state === 'as-left' && pair.method !== undefined && pair.n > fitted.n);

/** As left, and outside by the narrowest limit since. Such a pair is taken back by nobody, and struck only with a reason. */
export const wasOutside = (state: JobState, pair: ProofPair): boolean =>
  pair.state === 'as-left' && pair.method !== undefined && wasOutsideOnce(state, pair);

/** Pairs outside the limit that somebody said do not count. */
export const struckOutside = (state: JobState): readonly ProofPair[] =>
  takenAsLeft(state).filter((pair) => pair.struckBecause !== undefined && wasOutside(state, pair));

/** Those of them for which nothing was read since: at their place, made the same way. */
export const freshPairsWanted = (state: JobState, counted: readonly ProofPair[]): readonly ProofPair[] =>
  struckOutside(state).filter(
    (struck) =>
      !counted.some(
        (pair) =>
          pair.n > (struck.struckN ?? struck.n) &&
          pair.method === struck.method &&
          isOnePlace(state, pair, struck),
      ),
  );

/** What a screen sends when nobody gave a reason: not enough for a pair outside the limit. */
export const STRUCK_BY_HAND = 'struck by hand';

/** A letter or a mark tells nobody who reads the record why; this many letters are two short words. Common practice, no source. */
export const LEAST_LETTERS = 8;

/** Whether a pair outside the limit may be struck for this: somebody said it in words. */
export const isReason = (reason: string): boolean =>
  reason !== STRUCK_BY_HAND && (reason.match(/\p{L}/gu)?.length ?? 0) >= LEAST_LETTERS;
