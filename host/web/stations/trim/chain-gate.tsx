import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import { chainReadings } from '../../../job/proof/chain-gate';
import { isReason, LEAST_LETTERS } from '../../../job/proof/proof-struck';
import type { JobCommand } from '../../../job/schema/commands';
import type { TrimShutWhy } from '../../../job/schema/chain-shapes';
import type { JobState } from '../../../job/state/state';
import { FAULT_REMAINS, mismatchWords, PARTING_WORDS } from '../../../words/mismatch';
import { printed } from '../../../words/notation';
import { Note } from '../../parts/note';
import { NumberField, useNumberDraft } from '../../parts/number-field';
import { TableBox } from '../../parts/table-box';
import { TextField } from '../../parts/text-field';
import { shownReading, shownUnit } from '../../parts/words';

type GateProps = {
  readonly state: JobState;
  readonly why: TrimShutWhy;
  readonly send: (command: JobCommand) => void;
  readonly toCheck: () => void;
};

const WHY: Readonly<Record<TrimShutWhy, string>> = {
  'as-found': 'Nobody noted yet what the needle showed before anything was touched.',
  chain: 'What was found has not been compared with what gauge and sender together foretell.',
  'fault-remains': FAULT_REMAINS,
  finding: 'The check found a fault. A resistor would hide it: mend it, then check again.',
};

const PLACE = 'chain-test';

/** Brings the test into sight, with the keyboard at its first question. */
export function toChainTest(): void {
  const place = document.getElementById(PLACE);
  place?.scrollIntoView({ block: 'center' });
  place?.querySelector<HTMLElement>('input, button')?.focus({ preventScroll: true });
}

/** Before a resistor is chosen: does the vehicle show what its two curves say together? Else one would hide a fault. */
export function ChainGate(props: GateProps): JSX.Element {
  const { state, why, send, toCheck } = props;
  const wantsReading = why === 'as-found' || (why === 'chain' && chainReadings(state).length === 0);
  return (
    <section class="stack" aria-label="Chain test" id={PLACE}>
      <Note kind="plain" word="First the chain test">
        <p>{WHY[why]}</p>
      </Note>
      {why === 'fault-remains' ? <ChainTable state={state} /> : null}
      {wantsReading ? <NaturalState {...props} /> : null}
      <div class="row">
        {wantsReading || why === 'finding' ? null : (
          <button type="button" class="button" onClick={() => send({ kind: 'test-chain' })}>
            {why === 'chain' ? 'Compare with the curves' : 'Compare again'}
          </button>
        )}
        {why === 'chain' || wantsReading ? null : (
          <button type="button" class="button" onClick={toCheck}>
            To the check
          </button>
        )}
      </div>
      <SignFold {...props} />
    </section>
  );
}

/** One natural state beside a reference; a night's soak is free. */
function NaturalState({ state, send }: GateProps): JSX.Element {
  const { unit } = state.gauge;
  const reference = useNumberDraft('', unit);
  const spread = useNumberDraft('', shownUnit(unit), 0);
  const needle = useNumberDraft('', unit);
  const note = (): void => {
    if (reference.value === undefined || spread.value === undefined || needle.value === undefined) return;
    send({
      kind: 'record-as-found',
      state: 'natural state, nothing fitted',
      indicated: needle.value,
      reference: reference.value,
      referenceUncertainty: spread.value / 2,
    });
  };
  const isReady = [reference, spread, needle].every((each) => each.value !== undefined);
  return (
    <div class="stack">
      <p>
        One natural state beside a reference, nothing fitted, nothing touched. After a night{'\u2019'}s soak
        sender, block and air agree within a degree, and it costs nothing.
      </p>
      <div class="row row-end">
        <NumberField label="What is true" unit={shownUnit(unit)} draft={reference} />
        <NumberField label={'\u00b1'} unit={`${shownUnit(unit)}, 95 %`} draft={spread} />
        <NumberField label="The needle shows" unit={shownUnit(unit)} draft={needle} onEnter={note} />
        <button type="button" class="button" disabled={!isReady} onClick={note}>
          Note it as found
        </button>
      </div>
    </div>
  );
}

function ChainTable({ state }: { readonly state: JobState }): JSX.Element | null {
  const { chainTested: tested, gauge } = state;
  if (tested === undefined) return null;
  return (
    <>
      <TableBox label="Table of the chain test">
        <table>
          <caption>What the curves foretell</caption>
          <thead>
            <tr>
              <th scope="col">True</th>
              <th scope="col">Foretold</th>
              <th scope="col">Needle</th>
              <th scope="col" class="number">
                Difference over uncertainty
              </th>
            </tr>
          </thead>
          <tbody>
            {tested.pairs.map((pair) => (
              <tr key={pair.asFoundN}>
                <td>{shownReading(pair.value, gauge)}</td>
                <td>{shownReading(pair.predicted, gauge)}</td>
                <td>{shownReading(pair.indicated, gauge)}</td>
                <td class="number">{pair.score.toFixed(1)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </TableBox>
      {tested.couldMean.length === 0 ? null : (
        <>
          <p>It could mean, likeliest first; a ranking, no finding:</p>
          <ul>
            {tested.couldMean.map((each) => (
              <li key={each.causes.join()}>{mismatchWords(each, gauge.unit, printed)}</li>
            ))}
          </ul>
        </>
      )}
      {tested.readNext === undefined ? null : <p>Read next: {PARTING_WORDS[tested.readNext]}.</p>}
    </>
  );
}

/** The way round: a name and a reason, which are printed. */
function SignFold({ state, send }: GateProps): JSX.Element {
  const [reason, setReason] = useState('');
  return (
    <details>
      <summary>Go on without it</summary>
      <div class="stack">
        <TextField
          label="Why is a resistor fitted all the same?"
          text={reason}
          onText={setReason}
          hint={`In words, ${LEAST_LETTERS} letters or more. It is printed on the record of ${state.title}, with your name.`}
        />
        <div>
          <button
            type="button"
            class="button"
            disabled={!isReason(reason)}
            onClick={() => send({ kind: 'sign-trim', reason: reason.trim() })}
          >
            Sign, and go on
          </button>
        </div>
      </div>
    </details>
  );
}
