import type { JSX } from 'preact';
import type { JobState, ProofPair } from '../../../job/state';
import { provesNothing } from '../../../job/proof';
import { limitOf, pairResult, probabilityWithin, verdictOn } from '../../../job/verdict';
import { shownError, shownOhm, shownReading, shownSpread } from '../../model/words';
import { TableBox } from '../../parts/table-box';
import { ProofSummary, VERDICT_WORDS } from './proof-limit';

type ProofTableProps = {
  readonly state: JobState;
  /** Left out on the record: there is nothing to press on paper. */
  readonly strike?: ((pairId: string) => void) | undefined;
};

/** Pairs of reference and needle, with error, uncertainty and a verdict that names its rule. */
export function ProofTable({ state, strike }: ProofTableProps): JSX.Element | null {
  const isEmpty = state.proofPairs.length === 0;
  // On the record an unbegun proof takes no room; at the work it says what it wants.
  if (isEmpty)
    return strike === undefined && state.fitted === undefined ? null : <ProofSummary state={state} />;
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
  const isSure = pair.referenceUncertainty !== undefined;
  return (
    <tr class={isStruck ? 'struck' : ''}>
      <td class="figure">
        <span class="nowrap">
          {shownReading(pair.reference, gauge).split(' ')[0]} {'\u2192'} {shownReading(pair.indicated, gauge)}
        </span>
        <small class="soft"> {howWords(pair)}</small>
      </td>
      <td class="number">
        {shownError(result.error, gauge)} {isSure ? shownSpread(result.expandedUncertainty, gauge) : ''}
      </td>
      <td>
        <PairVerdict state={state} pair={pair} limit={limit} />
      </td>
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

/** "as left, rising; substituted: a resistor of 30.4 Ω in the sender's place". */
const howWords = ({ state, leg, method, substitute, referencePlace }: ProofPair): string => {
  const when = `${state.replace('-', ' ')}, ${leg === 'up' ? 'rising' : 'falling'}`;
  if (method === undefined) return when;
  const by = substitute?.with === 'box' ? 'the box at' : 'a resistor of';
  return substitute === undefined
    ? `${when}; run${referencePlace === undefined ? '' : `: ${referencePlace}`}`
    : `${when}; substituted: ${by} ${shownOhm(substitute.resistanceOhm)}`;
};

const AS_GOOD_AS_SURE = 0.999;
const probabilityWords = (probability: number): string =>
  probability > AS_GOOD_AS_SURE ? 'p > 0.999' : `p ${probability.toFixed(3)}`;

type VerdictProps = { readonly state: JobState; readonly pair: ProofPair; readonly limit: number };

function PairVerdict({ state, pair, limit }: VerdictProps): JSX.Element {
  if (pair.struckBecause !== undefined) return <>struck</>;
  const idle = provesNothing(state, pair);
  if (idle !== undefined) return <small class="soft">proves nothing: {idle}</small>;
  if (pair.referenceUncertainty === undefined)
    return <small class="soft">the reference is sure to nothing</small>;
  const result = pairResult(state, pair);
  return (
    <>
      <strong>{VERDICT_WORDS[verdictOn(result, limit)]}</strong>{' '}
      <small class="soft nowrap">{probabilityWords(probabilityWithin(result, limit))}</small>
    </>
  );
}
