import type { JSX } from 'preact';
import type { JobState, ProofPair } from '../../../job/state';
import { limitOf, pairResult, verdictOn } from '../../../job/verdict';
import { shownError, shownReading, shownSpread } from '../../model/words';
import { TableBox } from '../../parts/table-box';
import { ProofSummary, VERDICT_WORDS } from './proof-limit';

type ProofTableProps = {
  readonly state: JobState;
  /** Left out on the record: there is nothing to press on paper. */
  readonly strike?: ((pairId: string) => void) | undefined;
};

/** Pairs of reference and needle, with error, uncertainty and a verdict that names its rule. */
export function ProofTable({ state, strike }: ProofTableProps): JSX.Element | null {
  if (state.proofPairs.length === 0) return null;
  const limit = limitOf(state).size;
  return (
    <div class="stack">
      <ProofSummary state={state} />
      <TableBox label="Table of proof pairs">
        <table>
          <caption>Proof in the vehicle</caption>
          <thead>
            <tr>
              <th scope="col">True {'\u2192'} needle</th>
              <th scope="col" class="number">
                Error, sure to (95 %)
              </th>
              <th scope="col">Verdict</th>
              {strike === undefined ? null : (
                <th scope="col">
                  <span class="unseen">Strike</span>
                </th>
              )}
            </tr>
          </thead>
          <tbody>
            {state.proofPairs.map((pair) => (
              <PairRow key={pair.pairId} state={state} pair={pair} limit={limit} strike={strike} />
            ))}
          </tbody>
        </table>
      </TableBox>
    </div>
  );
}

function PairRow(props: ProofTableProps & { readonly pair: ProofPair; readonly limit: number }): JSX.Element {
  const { state, pair, limit, strike } = props;
  const { gauge } = state;
  const result = pairResult(state, pair);
  const isStruck = pair.struckBecause !== undefined;
  return (
    <tr class={isStruck ? 'struck' : ''}>
      <td class="figure">
        <span class="nowrap">
          {shownReading(pair.reference, gauge).split(' ')[0]} {'\u2192'} {shownReading(pair.indicated, gauge)}
        </span>
        <small class="soft">
          {' '}
          {pair.state.replace('-', ' ')}, {pair.leg === 'up' ? 'rising' : 'falling'}
        </small>
      </td>
      <td class="number">
        {shownError(result.error, gauge)} {shownSpread(result.expandedUncertainty, gauge)}
      </td>
      <td>{isStruck ? 'struck' : <strong>{VERDICT_WORDS[verdictOn(result, limit)]}</strong>}</td>
      {strike === undefined ? null : (
        <td>
          {isStruck ? null : (
            <button
              type="button"
              class="button button-plain"
              aria-label={`Strike the pair at ${shownReading(pair.reference, gauge)}`}
              onClick={() => strike(pair.pairId)}
            >
              Strike
            </button>
          )}
        </td>
      )}
    </tr>
  );
}
