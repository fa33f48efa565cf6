import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import { leadSourceFrom } from '../../../core/at-work';
import type { CommandOf } from '../../../job/schema/commands';
import type { SenderFinding } from '../../../job/findings';
import type { JobState } from '../../../job/state/state';
import type { JobConnection } from '../../connection/job-connection';
import { Choice } from '../../parts/choice';
import { wireMeterHookUp } from '../../../job/hook-up';
import { Fold } from '../../parts/fold';
import { LeadsFold } from '../leads-fold';
import { NumberField, useNumberDraft, type NumberDraft } from '../../parts/number-field';
import { useSignal } from '../../signal';
import { inPlaceWords } from '../../../words/at-work';
import { printed } from '../../../words/notation';
import { saidRefusal } from '../../../words/refusal';

type WorkingHeatProps = {
  readonly state: JobState;
  readonly sender: JobState['senders'][number];
  readonly job: JobConnection;
};

const METHODS = [
  { value: 'flowing', words: 'Engine idling, coolant hot' },
  { value: 'still', words: 'Engine off, ignition on' },
] as const;
type Method = (typeof METHODS)[number]['value'];

/** Six readings either way: just after the lead goes on and a minute later, in turn; or seconds after the ignition. */
const STILL_SECONDS = [2, 15, 30, 60, 120, 300] as const;
const labelOf = (method: Method, index: number): string =>
  method === 'still'
    ? `After ${STILL_SECONDS[index]} s`
    : `${index % 2 === 0 ? 'Just on' : 'After a minute'}, ${['first', 'second', 'third'][index >> 1]} time`;

type Reading = CommandOf<'say-working-current'>['readings'][number];
const readingOf = (method: Method, index: number, senderVolt: number): Reading =>
  method === 'still'
    ? { senderVolt, second: STILL_SECONDS[index] ?? 0 }
    : { senderVolt, when: index % 2 === 0 ? 'cold' : 'warm' };

/** In the car the gauge's own current heats the sender: a meter on the sender lead tells by how much. */
export function WorkingHeat({ state, sender, job }: WorkingHeatProps): JSX.Element {
  const [method, setMethod] = useState<Method>('flowing');
  const [wrong, setWrong] = useState<string | undefined>(undefined);
  const lead = { open: useVolt(), ohm: useNumberDraft('', 'ohm', 0), loaded: useVolt() };
  const volts = [useVolt(), useVolt(), useVolt(), useVolt(), useVolt(), useVolt()];
  const findings = useSignal(job.findings.findings);
  const found = findings?.senders.find((each) => each.senderId === sender.senderId)?.inPlace;
  const known = state.workingCurrents.some((each) => each.senderId === sender.senderId);
  const drafts = [lead.open, lead.ohm, lead.loaded, ...volts];
  const isWhole = drafts.every(({ value }) => value !== undefined);
  const say = (): void => {
    const [open, ohm, loaded, ...read] = drafts.flatMap(({ value }) => value ?? []);
    if (!isWhole || open === undefined || ohm === undefined || loaded === undefined) return;
    const source = leadSourceFrom({ ohm: Infinity, volt: open }, { ohm, volt: loaded });
    setWrong(source.kind === 'refused' ? saidRefusal(source, printed) : undefined);
    if (source.kind === 'refused') return;
    void job.send({
      kind: 'say-working-current',
      senderId: sender.senderId,
      method,
      lead: { volt: source.volt, ohm: source.ohm },
      readings: read.map((volt, index) => readingOf(method, index, volt)),
    });
  };
  const told = known && found !== undefined ? toldOf(found, sender.unit) : undefined;
  return (
    <Fold
      line={'How hot does the gauge\u2019s own current make it?'}
      says={told ?? 'a meter on the sender lead tells'}
    >
      <Choice label="How is it measured?" options={METHODS} chosen={method} onChoose={setMethod} />
      <p class="hint">{HOW[method]}</p>
      <LeadsFold hookUp={wireMeterHookUp(state)} isOpen={!state.simulated} />
      <div class="fields">
        <NumberField label="Lead unclipped, nothing on it" unit="V" draft={lead.open} />
        <NumberField label="A known resistor" unit="ohm" draft={lead.ohm} />
        <NumberField label="Lead with that resistor to ground" unit="V" draft={lead.loaded} />
      </div>
      <div class="fields">
        {volts.map((draft, index) => (
          <NumberField key={labelOf(method, index)} label={labelOf(method, index)} unit="V" draft={draft} />
        ))}
      </div>
      <div>
        <button type="button" class="button" disabled={!isWhole} onClick={say}>
          Work out the heat
        </button>
      </div>
      {wrong === undefined ? null : <p role="alert">{wrong}</p>}
      {told === undefined ? null : (
        <p role="status" class="figure" data-in-place={found?.kind}>
          {told}
        </p>
      )}
    </Fold>
  );
}

const toldOf = (found: NonNullable<SenderFinding['inPlace']>, unit: string): string =>
  found.kind === 'refused' ? saidRefusal(found, printed) : inPlaceWords(found, unit, printed);

const useVolt = (): NumberDraft => useNumberDraft('', 'V', 0);

const HOW: Readonly<Record<Method, string>> = {
  flowing:
    'Box unclipped, meter from the sender lead to the engine block. Lead off the sender for a minute, on for a minute, three times; read it when the meter first settles and again after the minute. Handbrake on, out of gear, sleeves and leads clear of belts and fan; the maker\u2019s manual comes first. On a chopping stabiliser the volts do not stand still: leave this out.',
  still:
    'Box unclipped, engine hot and off. Meter from the sender lead to the engine block, ignition on, and read it as the seconds pass. In still coolant the sender sheds less than in flow: the answer is a lower bound.',
};
