import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { JobCommand } from '../../../job/schema/commands';
import type { JobState } from '../../../job/state/state';
import type { TrimOptions } from '../../../job/schema/trim';
import { numberList } from '../../../core/text/number';
import { shownUnit } from '../../parts/words';
import { Choice, Pick } from '../../parts/choice';
import { NumberField, useNumberDraft } from '../../parts/number-field';
import { TextField } from '../../parts/text-field';

const SERIES = [
  { value: 'E6', words: 'E6, 20 %' },
  { value: 'E12', words: 'E12, 10 %' },
  { value: 'E24', words: 'E24, 1 or 5 %' },
  { value: 'E48', words: 'E48, 2 %' },
  { value: 'E96', words: 'E96, 1 %' },
] as const;
const USUAL_TOLERANCE_PERCENT = 1;
const COUNTS = [
  { value: '1', words: 'One' },
  { value: '2', words: 'Two' },
  { value: '3', words: 'Three' },
] as const;

type QuestionProps = { readonly state: JobState; readonly send: (command: JobCommand) => void };

const countOf = (most: number | undefined): (typeof COUNTS)[number]['value'] =>
  COUNTS.find(({ value }) => Number(value) === most)?.value ?? '3';

const written = (value: number | undefined): string => (value === undefined ? '' : String(value));

/** What is wanted of a network. Every field may stay as it is. */
function useTrimChoice(state: JobState) {
  const before = state.trimRequest;
  const [senderId, setSenderId] = useState(state.trimSenderId ?? state.senders.at(-1)?.senderId ?? '');
  const [series, setSeries] = useState<NonNullable<TrimOptions['series']>>(before?.series ?? 'E24');
  const [count, setCount] = useState(countOf(before?.maxParts));
  const from = useNumberDraft(written(before?.from), state.gauge.unit);
  const to = useNumberDraft(written(before?.to), state.gauge.unit);
  const tolerance = useNumberDraft(written(before?.tolerancePercent ?? USUAL_TOLERANCE_PERCENT), '%', 0);
  const supply = useNumberDraft(written(before?.supplyVolt), 'V', 0);
  const gaugeOhm = useNumberDraft(written(before?.gaugeOhm), 'ohm', 0);
  const [drawer, setDrawer] = useState(before?.stockOhm?.join(', ') ?? '');
  const { numbers, wrong } = numberList(drawer);
  const drafts = [from, to, tolerance, supply, gaugeOhm];
  const options: TrimOptions = {
    senderId,
    series,
    maxParts: Number(count),
    ...(from.value === undefined ? {} : { from: from.value }),
    ...(to.value === undefined ? {} : { to: to.value }),
    ...(tolerance.value === undefined ? {} : { tolerancePercent: tolerance.value }),
    ...(supply.value === undefined ? {} : { supplyVolt: supply.value }),
    ...(gaugeOhm.value === undefined ? {} : { gaugeOhm: gaugeOhm.value }),
    ...(numbers.length === 0 ? {} : { stockOhm: [...numbers] }),
  };
  const isBackward = from.value !== undefined && to.value !== undefined && from.value >= to.value;
  const isWhole =
    !isBackward &&
    drafts.every((draft) => draft.problem === undefined) &&
    wrong.length === 0 &&
    senderId !== '';
  const texts = { senderId, setSenderId, series, setSeries, count, setCount, drawer, setDrawer, wrong };
  return { ...texts, isBackward, from, to, tolerance, supply, gaugeOhm, options, isWhole };
}

export function TrimQuestion({ state, send }: QuestionProps): JSX.Element {
  const choice = useTrimChoice(state);
  const isFirst = state.trimRequest === undefined;
  return (
    <div class="stack">
      {state.senders.length > 1 ? (
        <Choice
          label="For which sender?"
          options={state.senders.map((each) => ({ value: each.senderId, words: each.title }))}
          chosen={choice.senderId}
          onChoose={(senderId) => {
            choice.setSenderId(senderId);
            // An answer about one sender must not stand under the name of another.
            if (!isFirst && choice.isWhole)
              send({ kind: 'request-trim', options: { ...choice.options, senderId } });
          }}
        />
      ) : null}
      <TrimFields state={state} choice={choice} />
      <div>
        <button
          type="button"
          class={`button ${isFirst ? 'button-main' : ''}`}
          disabled={!choice.isWhole}
          onClick={() => send({ kind: 'request-trim', options: choice.options })}
        >
          {isFirst ? 'Find the network' : 'Search again'}
        </button>
      </div>
    </div>
  );
}

type FieldsProps = { readonly state: JobState; readonly choice: ReturnType<typeof useTrimChoice> };

function TrimFields({ state, choice }: FieldsProps): JSX.Element {
  const unit = shownUnit(state.gauge.unit);
  const { wrong } = choice;
  return (
    <details>
      <summary>Range, parts at hand, supply</summary>
      <div class="stack">
        <div class="fields">
          <NumberField label="Right from" unit={unit} draft={choice.from} hint="Empty: all that is known." />
          <NumberField
            label="to"
            unit={unit}
            draft={choice.to}
            hint={choice.isBackward ? 'The range runs backwards: this must be the higher end.' : undefined}
          />
          <Pick
            label="Values one can buy"
            options={SERIES}
            chosen={choice.series}
            onChoose={choice.setSeries}
          />
          <NumberField label="Tolerance of the parts" unit="%" draft={choice.tolerance} />
          <NumberField
            label="Supply at the gauge"
            unit="V"
            draft={choice.supply}
            hint="Empty: 13.8 V, charging."
          />
          <NumberField
            label="Gauge resistance"
            unit="ohm"
            draft={choice.gaugeOhm}
            hint="Needed for a resistor across the gauge."
          />
        </div>
        <TextField
          label="Only from my drawer (ohms)"
          text={choice.drawer}
          onText={choice.setDrawer}
          hint={
            wrong.length === 0
              ? 'For example 10, 22, 47, 1k2. Empty: the whole series.'
              : `Not understood: ${wrong.join(', ')}.`
          }
        />
        <Choice
          label="At most how many resistors?"
          options={COUNTS}
          chosen={choice.count}
          onChoose={choice.setCount}
        />
      </div>
    </details>
  );
}
