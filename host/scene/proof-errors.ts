import { limitOf, pairResult } from '../job/proof/verdict';
import type { JobState, ProofPair } from '../job/state/state';
import { shownSpread } from '../words/shown';
import { evenLimit, type ErrorDot, type ErrorPoint, type ErrorQuestion } from './error-scene';

const FEWEST_FOR_A_LINE = 2;

const pointOf = (state: JobState, pair: ProofPair): ErrorPoint => {
  const { error, expandedUncertainty } = pairResult(state, pair);
  return {
    value: pair.reference,
    error,
    ...(pair.referenceUncertainty === undefined ? {} : { half: expandedUncertainty }),
  };
};

const dotOf = (state: JobState, pair: ProofPair): ErrorDot => ({
  ...pointOf(state, pair),
  id: pair.pairId,
  kind: pair.struckBecause === undefined ? pair.leg : 'struck',
});

export const isAsFound = (pair: ProofPair): boolean =>
  pair.state === 'as-found' && pair.struckBecause === undefined;

/** The errors of the pairs: as left with their uncertainty, as found dashed, and what this job allows. */
export function proofErrors(state: JobState): ErrorQuestion {
  const { gauge } = state;
  const limit = limitOf(state).size;
  const found = state.proofPairs.filter(isAsFound);
  const foundLine = {
    id: 'found',
    name: 'as found',
    look: 'before' as const,
    points: found.map(({ reference, indicated }) => ({ value: reference, error: indicated - reference })),
  };
  return {
    scale: gauge,
    lines: found.length < FEWEST_FOR_A_LINE ? [] : [foundLine],
    dots: state.proofPairs.filter((pair) => !isAsFound(pair)).map((pair) => dotOf(state, pair)),
    limit: evenLimit(limit, `limit of this job ${shownSpread(limit, gauge)}`),
  };
}
