import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { CommandOf, JobCommand } from '../../../job/schema/commands';
import type { JobState } from '../../../job/state/state';
import { adjustedWords } from '../../../words/cluster';
import { printed } from '../../../words/notation';
import { Pick } from '../../parts/choice';
import { Fold } from '../../parts/fold';
import { NumberField, useNumberDraft } from '../../parts/number-field';
import { TextField } from '../../parts/text-field';
import { shownUnit } from '../../parts/words';

type What = CommandOf<'say-adjusted'>['what'];

const WHATS: readonly { readonly value: What; readonly words: string }[] = [
  { value: 'pointer-moved', words: 'The pointer was moved' },
  { value: 'stabiliser-set', words: 'The stabiliser was set' },
  { value: 'shunt-turned', words: 'A shunt was turned' },
  { value: 'resistor-fitted', words: 'A resistor was fitted' },
  { value: 'other', words: 'Something else' },
];

type AdjustedProps = { readonly state: JobState; readonly send: (command: JobCommand) => void };

/** What was done to the gauge itself: what is read after it is the gauge as it was left. */
export function Adjusted({ state, send }: AdjustedProps): JSX.Element {
  const { adjustments, gauge } = state;
  return (
    <Fold
      line="What was done to the gauge"
      says={
        adjustments.length === 0
          ? 'nothing yet: the readings are as found'
          : adjustments.map((each) => adjustedWords(each, gauge.unit, printed)).join('; ')
      }
    >
      <Form key={adjustments.length} state={state} send={send} />
    </Fold>
  );
}

function Form({ state, send }: AdjustedProps): JSX.Element {
  const [what, setWhat] = useState<What>('pointer-moved');
  const movedBy = useNumberDraft('', state.gauge.unit);
  const setToVolt = useNumberDraft('', 'V', 0);
  const toOhm = useNumberDraft('', 'ohm', 0);
  const [remark, setRemark] = useState('');
  const isWrong = [movedBy, setToVolt, toOhm].some(({ problem }) => problem !== undefined);
  const say = (): void =>
    send({
      kind: 'say-adjusted',
      what,
      ...(what !== 'pointer-moved' || movedBy.value === undefined ? {} : { movedBy: movedBy.value }),
      ...(what !== 'stabiliser-set' || setToVolt.value === undefined ? {} : { setToVolt: setToVolt.value }),
      ...(!hasOhm(what) || toOhm.value === undefined ? {} : { toOhm: toOhm.value }),
      ...(remark.trim() === '' ? {} : { remark: remark.trim() }),
    });
  return (
    <>
      <div class="fields">
        <Pick label="What was done?" options={WHATS} chosen={what} onChoose={setWhat} />
        {what === 'pointer-moved' ? (
          <NumberField
            label="By how much, upscale above zero"
            unit={shownUnit(state.gauge.unit)}
            draft={movedBy}
          />
        ) : null}
        {what === 'stabiliser-set' ? <NumberField label="It gives now" unit="V" draft={setToVolt} /> : null}
        {hasOhm(what) ? <NumberField label="It has now" unit="ohm" draft={toOhm} /> : null}
        <TextField label="How, and where" text={remark} onText={setRemark} />
      </div>
      <div>
        <button type="button" class="button" disabled={isWrong} onClick={say}>
          Note it: the next sweep is as left
        </button>
      </div>
    </>
  );
}

const hasOhm = (what: What): boolean => what === 'shunt-turned' || what === 'resistor-fitted';
