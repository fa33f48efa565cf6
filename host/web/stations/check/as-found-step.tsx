import type { JSX } from 'preact';
import { useMemo, useState } from 'preact/hooks';
import type { JobCommand } from '../../../job/schema/commands';
import type { JobState } from '../../../job/state/state';
import { asFoundWork } from '../../../job/state/confirmations';
import { faceOf } from '../../dial/dial-geometry';
import { Gates } from '../confirm-first';
import { entryReading, UNSET, type Entry } from '../../entry/entry';
import { REFERENCE_WORDS } from '../sender/sender-words';
import type { Signal } from '../../signal';
import { shownUnit } from '../../parts/words';
import { Caution } from '../../parts/caution';
import { NumberField, useNumberDraft, type NumberDraft } from '../../parts/number-field';
import { TextField } from '../../parts/text-field';
import { ReadingEntry } from '../../entry/reading-entry';

type AsFoundProps = {
  readonly state: JobState;
  readonly entry: Signal<Entry>;
  readonly send: (command: JobCommand) => void;
};

/** What is asked for is twice a standard uncertainty. Source: JCGM 100:2008, 6.3.3. */
const COVERAGE_FACTOR = 2;

const STATES: Readonly<Record<JobState['gauge']['quantity'], readonly string[]>> = {
  temperature: ['engine cold', 'engine warm, idling', 'thermostat open'],
  fuel: ['tank empty', 'tank half', 'tank full'],
  pressure: ['engine off', 'idling hot', 'running hot'],
  other: ['at rest', 'in use'],
};
const BENCH_STATES = ['not powered', 'powered, no sender', 'powered, with its sender'];

/** What the gauge says before anything is touched; adjustment would destroy it for ever. */
export function AsFoundStep({ state, entry, send }: AsFoundProps): JSX.Element {
  const { gauge } = state;
  const face = useMemo(() => faceOf(gauge), [gauge]);
  const reference = useNumberDraft('', gauge.unit);
  const give = useNumberDraft('', gauge.unit, 0);
  const [natural, setNatural] = useState('');
  const isReady = natural.trim() !== '' && reference.problem === undefined && give.problem === undefined;
  const confirm = (): void => {
    const { atStop } = entry.get();
    const indicated = entryReading(gauge, entry.get());
    if (indicated === undefined || !isReady) return;
    send({
      kind: 'record-as-found',
      state: natural,
      indicated,
      ...(atStop === undefined ? {} : { atStop }),
      ...(reference.value === undefined ? {} : { reference: reference.value }),
      ...(reference.value === undefined || give.value === undefined
        ? {}
        : { referenceUncertainty: give.value / COVERAGE_FACTOR }),
    });
    entry.set(UNSET);
  };
  return (
    <div class="stack">
      <p class="prompt">Touch nothing yet. What does the gauge show now?</p>
      {gauge.quantity === 'temperature' && state.place === 'car' ? (
        <Caution line="Never open a hot cooling system; fans start by themselves">
          <p>
            It holds water above 100 {'\u00b0'}C under pressure. Keep hands and leads clear of fan and belts.
          </p>
        </Caution>
      ) : null}
      <div class="columns">
        <div class="stack">
          <TextField label="In what state is it?" text={natural} onText={setNatural} />
          <Chips
            words={state.place === 'bench' ? BENCH_STATES : STATES[gauge.quantity]}
            chosen={natural}
            onChoose={setNatural}
          />
          <TrueValue gauge={gauge} reference={reference} give={give} />
        </div>
        <Gates works={asFoundWork(state, natural)} state={state} send={send}>
          <ReadingEntry
            gauge={gauge}
            face={face}
            entry={entry}
            isReady={isReady}
            waitWords="First say in what state it is"
            onConfirm={confirm}
          />
        </Gates>
      </div>
    </div>
  );
}

/** What is true, and how well that is known. */
const TrueValue = (props: {
  readonly gauge: JobState['gauge'];
  readonly reference: NumberDraft;
  readonly give: NumberDraft;
}): JSX.Element => {
  const { gauge, reference, give } = props;
  const unit = shownUnit(gauge.unit);
  return (
    <>
      <NumberField
        label="True value, if you know it"
        unit={unit}
        draft={reference}
        hint={REFERENCE_WORDS[gauge.quantity]}
      />
      {reference.value === undefined ? null : (
        <NumberField
          label={'\u00b1 of the true value'}
          unit={`${unit}, 95 %`}
          draft={give}
          hint="Without it nobody can tell later whether a fault remains beside the curve."
        />
      )}
    </>
  );
};

const Chips = (props: {
  readonly words: readonly string[];
  readonly chosen: string;
  readonly onChoose: (words: string) => void;
}): JSX.Element => (
  <div class="chips">
    {props.words.map((words) => (
      <button
        key={words}
        type="button"
        class="chip"
        aria-pressed={props.chosen === words}
        onClick={() => props.onChoose(words)}
      >
        {words}
      </button>
    ))}
  </div>
);
