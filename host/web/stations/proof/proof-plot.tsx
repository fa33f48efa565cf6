import type { JSX } from 'preact';
import type { JobState, ProofPair } from '../../../job/state/state';
import { limitOf, pairResult } from '../../../job/proof/verdict';
import { ErrorPlot } from '../../plot/error-plot';
import type { ErrorDot, ErrorPoint } from '../../plot/error-scene';
import { shownError, shownReading, shownSpread, shownUnit } from '../../parts/words';

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

const isFound = (pair: ProofPair): boolean => pair.state === 'as-found' && pair.struckBecause === undefined;

/** The pairs as left with their uncertainty, as found dashed before them, and what this job allows. */
export function ProofPlot({ state }: { readonly state: JobState }): JSX.Element | null {
  const left = state.proofPairs.filter((pair) => !isFound(pair));
  const found = state.proofPairs.filter(isFound);
  if (left.length === 0) return null;
  const limit = limitOf(state).size;
  const worst = [...left].sort(
    (one, other) => Math.abs(other.indicated - other.reference) - Math.abs(one.indicated - one.reference),
  )[0];
  const { gauge } = state;
  return (
    <ErrorPlot
      unit={shownUnit(gauge.unit)}
      label={`Error of the needle as left: ${left.length} pairs${worst === undefined ? '' : `, the largest ${shownError(worst.indicated - worst.reference, gauge)} at ${shownReading(worst.reference, gauge)}`}. The table below holds the figures.`}
      question={{
        scale: gauge,
        lines:
          found.length < FEWEST_FOR_A_LINE
            ? []
            : [
                {
                  id: 'found',
                  name: 'as found',
                  look: 'before',
                  points: found.map((pair) => ({
                    value: pair.reference,
                    error: pair.indicated - pair.reference,
                  })),
                },
              ],
        dots: left.map((pair) => dotOf(state, pair)),
        limit: { size: limit, words: `limit of this job ${shownSpread(limit, gauge)}` },
      }}
    />
  );
}
