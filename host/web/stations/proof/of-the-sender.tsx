import type { JSX } from 'preact';
import { estimateNow, runPairs } from '../../../job/proof/run-pairs';
import type { JobCommand } from '../../../job/schema/commands';
import type { JobState } from '../../../job/state/state';
import { printed } from '../../../words/notation';
import { estimateWords, offerWords } from '../../../words/proof-later';
import { Fold } from '../../parts/fold';
import { TableBox } from '../../parts/table-box';
import { Verdict } from '../../parts/verdict';
import { shownError, shownReading, shownSpread } from '../../parts/words';

type SenderProps = {
  readonly state: JobState;
  readonly send: (command: JobCommand) => void;
};

/** Whether the pairs say that other resistors are worth soldering. */
export const isWorthIt = (state: JobState): boolean => estimateNow(state)?.offer?.isWorthIt === true;

/** Backwards from the pairs to the sender: what it does to the needle, and other resistors only where they are worth it. */
export function OfTheSender({ state, send }: SenderProps): JSX.Element | null {
  const estimate = estimateNow(state);
  if (runPairs(state).length === 0) return null;
  if (estimate === undefined)
    return (
      <div>
        <button type="button" class="button" onClick={() => send({ kind: 're-estimate-sender' })}>
          What do the pairs say of the sender?
        </button>
      </div>
    );
  const { offer } = estimate;
  const says = offerWords(estimate, state, printed);
  return (
    <section class="stack" aria-label="What the pairs say of the sender">
      <h3>What the pairs say of the sender</h3>
      <p>{estimateWords(estimate, state.gauge.unit, printed)}</p>
      {says === undefined ? null : (
        <Verdict kind={offer?.isWorthIt === true ? 'doubt' : 'good'}>{says}</Verdict>
      )}
      {offer?.isWorthIt === true ? (
        <p class="hint">
          To fit them, choose them here: what is fitted is then said anew, and the proof begins anew.
        </p>
      ) : null}
      {offer?.isWorthIt === true ? (
        <div>
          <button
            type="button"
            class="button button-main"
            onClick={() => send({ kind: 'choose-trim', candidate: offer.candidate })}
          >
            {offer.candidate.parts.length === 0 ? 'Take the resistors out' : 'Fit these instead'}
          </button>
        </div>
      ) : null}
      <Fold line="The needle by it" says="at five places">
        <EstimateTable state={state} />
      </Fold>
    </section>
  );
}

/** The verdict stands on the pairs; what lies between them the sender tells. */
function EstimateTable({ state }: { readonly state: JobState }): JSX.Element {
  const { gauge } = state;
  return (
    <>
      <TableBox label="Table of the needle by the sender as it is believed now">
        <table>
          <thead>
            <tr>
              <th scope="col">True</th>
              <th scope="col" class="number">
                Needle {'\u00b1'} (95 %)
              </th>
              <th scope="col" class="number">
                Error
              </th>
              <th scope="col" class="number">
                Error by its curve
              </th>
            </tr>
          </thead>
          <tbody>
            {(estimateNow(state)?.needle ?? []).map(({ value, byCurve, reading, expandedUncertainty }) => (
              <tr key={value}>
                <th scope="row">{shownReading(value, gauge)}</th>
                <td class="number">
                  {shownReading(reading, gauge)} {shownSpread(expandedUncertainty, gauge)}
                </td>
                <td class="number">{shownError(reading - value, gauge)}</td>
                <td class="number">{shownError(byCurve - value, gauge)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </TableBox>
      <p class="hint">The verdict stands on the pairs. This says what lies between them.</p>
    </>
  );
}
