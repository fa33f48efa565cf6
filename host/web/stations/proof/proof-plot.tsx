import type { JSX } from 'preact';
import type { JobState } from '../../../job/state/state';
import { isAsFound, proofErrors } from '../../../scene/proof-errors';
import { ErrorPlot } from '../../plot/error-plot';
import { shownError, shownReading, shownUnit } from '../../parts/words';

/** The pairs as left with their uncertainty, as found dashed before them, and what this job allows. */
export function ProofPlot({ state }: { readonly state: JobState }): JSX.Element | null {
  const left = state.proofPairs.filter((pair) => !isAsFound(pair));
  if (left.length === 0) return null;
  const worst = [...left].sort(
    (one, other) => Math.abs(other.indicated - other.reference) - Math.abs(one.indicated - one.reference),
  )[0];
  const { gauge } = state;
  return (
    <ErrorPlot
      unit={shownUnit(gauge.unit)}
      label={`Error of the needle as left: ${left.length} pairs${worst === undefined ? '' : `, the largest ${shownError(worst.indicated - worst.reference, gauge)} at ${shownReading(worst.reference, gauge)}`}. The table below holds the figures.`}
      question={proofErrors(state)}
    />
  );
}
