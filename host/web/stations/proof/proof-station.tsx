import type { JSX } from 'preact';
import { useMemo, useState } from 'preact/hooks';
import type { JobCommand } from '../../../job/commands';
import type { JobState } from '../../../job/state';
import { proofVerdict } from '../../../job/verdict';
import { faceOf } from '../../dial/dial-geometry';
import { entryReading, UNSET, type Entry } from '../../model/entry';
import type { Signal } from '../../model/signal';
import { shownDifferenceUnit, shownUnit } from '../../model/words';
import { Choice } from '../../parts/choice';
import { Note } from '../../parts/note';
import { NumberField, useNumberDraft } from '../../parts/number-field';
import { TextField } from '../../parts/text-field';
import { ConfirmFirst } from '../confirm-first';
import type { StationProps } from '../station-body';
import { ReadingEntry } from '../sweep/reading-entry';
import { ProofLimit } from './proof-limit';
import { ProofTable } from './proof-table';

const STATES = [
  { value: 'as-left', words: 'As left (network fitted)' },
  { value: 'as-found', words: 'As found (before)' },
] as const;
const LEGS = [
  { value: 'up', words: 'Needle rising' },
  { value: 'down', words: 'Needle falling' },
] as const;

/** The installed result against a reference, in the vehicle: rising and falling. */
export function ProofStation({ app, desk, state }: StationProps): JSX.Element {
  const send = (command: JobCommand): void => void desk.send(command);
  const isOutside = proofVerdict(state)?.verdict === 'outside';
  return (
    <div class="stack">
      <ProofCaution quantity={state.gauge.quantity} />
      <ConfirmFirst work="proof" state={state} send={send}>
        <PairEntry state={state} entry={app.entry} send={send} />
      </ConfirmFirst>
      <ProofLimit state={state} send={send} />
      <ProofTable
        state={state}
        strike={(pairId) => send({ kind: 'strike-proof-pair', pairId, reason: 'struck by hand' })}
      />
      {state.proofPairs.length === 0 ? null : (
        <div class="row">
          {isOutside ? (
            <button type="button" class="button button-main" onClick={() => app.opened.set('trim')}>
              Back to the trim
            </button>
          ) : null}
          <button
            type="button"
            class={isOutside ? 'button' : 'button button-main'}
            onClick={() => app.opened.set('record')}
          >
            On to the record
          </button>
        </div>
      )}
    </div>
  );
}

const TAKEN = 'On the sheet. For another pair, first the reference';

/** Source: common practice of the trade on hot coolant, driving tests and sudden drops. */
function ProofCaution({ quantity }: { readonly quantity: JobState['gauge']['quantity'] }): JSX.Element {
  return (
    <Note kind="caution">
      <p>
        In a moving vehicle the passenger reads, the driver drives. Do not trust the trimmed needle as the
        only warning before it is proved.
        {quantity === 'temperature'
          ? ' A needle that falls suddenly while the engine works hard means lost coolant: stop. Never open a hot system.'
          : ''}
      </p>
    </Note>
  );
}

type PairProps = {
  readonly state: JobState;
  readonly entry: Signal<Entry>;
  readonly send: (command: JobCommand) => void;
};

function PairEntry({ state, entry, send }: PairProps): JSX.Element {
  const { gauge } = state;
  const face = useMemo(() => faceOf(gauge), [gauge]);
  const reference = useNumberDraft('', gauge.unit);
  const uncertainty = useNumberDraft('', shownDifferenceUnit(gauge.unit), 0);
  const [place, setPlace] = useState('');
  const [leg, setLeg] = useState<'up' | 'down'>('up');
  const [when, setWhen] = useState<'as-left' | 'as-found'>('as-left');
  const isReady = reference.value !== undefined && uncertainty.problem === undefined;
  const confirm = (): void => {
    const indicated = entryReading(gauge, entry.get());
    if (indicated === undefined || reference.value === undefined || !isReady) return;
    send({
      kind: 'add-proof-pair',
      state: when,
      reference: reference.value,
      indicated,
      leg,
      ...(uncertainty.value === undefined ? {} : { referenceUncertainty: uncertainty.value / 2 }),
      ...(place.trim() === '' ? {} : { referencePlace: place }),
    });
    reference.setText('');
    entry.set(UNSET);
  };
  return (
    <div class="columns">
      <div class="stack">
        <p class="prompt">What is true, and what does the needle show?</p>
        <NumberField label="The reference says" unit={shownUnit(gauge.unit)} draft={reference} />
        <NumberField
          label="sure to"
          unit={`\u00b1 ${shownDifferenceUnit(gauge.unit)}, 95 %`}
          draft={uncertainty}
          hint="From its own certificate, or what you trust it to."
        />
        <TextField
          label="Where is the reference?"
          text={place}
          onText={setPlace}
          hint="And why should it agree with the sender's place?"
        />
        <Choice label="The needle was" options={LEGS} chosen={leg} onChoose={setLeg} />
        <Choice label="State of the vehicle" options={STATES} chosen={when} onChoose={setWhen} />
      </div>
      <ReadingEntry
        gauge={gauge}
        face={face}
        entry={entry}
        ghostFraction={undefined}
        isReady={isReady}
        waitWords={state.proofPairs.length === 0 ? 'First the reference' : TAKEN}
        canBeOnStop={false}
        onConfirm={confirm}
      />
    </div>
  );
}
