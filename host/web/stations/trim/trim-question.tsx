import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { JobCommand } from '../../../job/commands';
import type { JobState } from '../../../job/state';
import type { TrimOptions } from '../../../job/trim';
import { numberList } from '../../model/number-list';
import { shownUnit } from '../../model/words';
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
const COUNTS = [
  { value: '1', words: 'One' },
  { value: '2', words: 'Two' },
  { value: '3', words: 'Three' },
] as const;

type QuestionProps = { readonly state: JobState; readonly send: (command: JobCommand) => void };

/** What is wanted of a network. Every field may stay as it is. */
export function TrimQuestion({ state, send }: QuestionProps): JSX.Element {
  const before = state.trimRequest;
  const [senderId, setSenderId] = useState(before?.senderId ?? state.senders.at(-1)?.senderId ?? '');
  const [series, setSeries] = useState<NonNullable<TrimOptions['series']>>(before?.series ?? 'E24');
  const [count, setCount] = useState<'1' | '2' | '3'>('3');
  const from = useNumberDraft(String(before?.from ?? ''));
  const to = useNumberDraft(String(before?.to ?? ''));
  const tolerance = useNumberDraft(String(before?.tolerancePercent ?? 1));
  const supply = useNumberDraft(String(before?.supplyVolt ?? ''));
  const gaugeOhm = useNumberDraft(String(before?.gaugeOhm ?? ''));
  const [drawer, setDrawer] = useState(before?.stockOhm?.join(', ') ?? '');
  const { numbers: stockOhm, wrong } = numberList(drawer);
  const drafts = [from, to, tolerance, supply, gaugeOhm];
  const isWhole = drafts.every((draft) => draft.problem === undefined) && wrong.length === 0 && senderId !== '';
  const ask = (): void => {
    const given = (name: 'from' | 'to' | 'tolerancePercent' | 'supplyVolt' | 'gaugeOhm', value: number | undefined) =>
      value === undefined ? {} : { [name]: value };
    send({
      kind: 'request-trim',
      options: {
        senderId,
        series,
        maxParts: Number(count),
        ...given('from', from.value),
        ...given('to', to.value),
        ...given('tolerancePercent', tolerance.value),
        ...given('supplyVolt', supply.value),
        ...given('gaugeOhm', gaugeOhm.value),
        ...(stockOhm.length === 0 ? {} : { stockOhm: [...stockOhm] }),
      },
    });
  };
  return (
    <div class="stack">
      {state.senders.length > 1 ? (
        <Choice
          label="For which sender?"
          options={state.senders.map((each) => ({ value: each.senderId, words: each.title }))}
          chosen={senderId}
          onChoose={setSenderId}
        />
      ) : null}
      <details open={before === undefined ? undefined : false}>
        <summary>Range, parts at hand, supply</summary>
        <div class="stack">
          <div class="fields">
            <NumberField label="Right from" unit={shownUnit(state.gauge.unit)} draft={from} hint="Empty: all that is known." />
            <NumberField label="to" unit={shownUnit(state.gauge.unit)} draft={to} />
            <Pick label="Values one can buy" options={SERIES} chosen={series} onChoose={setSeries} />
            <NumberField label="Tolerance of the parts" unit="%" draft={tolerance} />
            <NumberField label="Supply at the gauge" unit="V" draft={supply} hint="Empty: 13.8 V, charging." />
            <NumberField label="Gauge resistance" unit="ohm" draft={gaugeOhm} hint="Needed for a resistor across the gauge." />
          </div>
          <TextField
            label="Only from my drawer (ohms)"
            text={drawer}
            onText={setDrawer}
            hint={wrong.length === 0 ? 'For example 10, 22, 47, 1k2. Empty: the whole series.' : `Not understood: ${wrong.join(', ')}.`}
          />
          <Choice label="At most how many resistors?" options={COUNTS} chosen={count} onChoose={setCount} />
        </div>
      </details>
      <div>
        <button type="button" class="button button-main" disabled={!isWhole} onClick={ask}>
          {before === undefined ? 'Find the network' : 'Search again'}
        </button>
      </div>
    </div>
  );
}
