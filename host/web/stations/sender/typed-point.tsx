import type { JSX } from 'preact';
import { useRef } from 'preact/hooks';
import type { JobCommand } from '../../../job/schema/commands';
import type { JobState } from '../../../job/state/state';
import type { Outcome } from '../../connection/job-connection';
import { senderWords } from './sender-words';
import { shownUnit } from '../../parts/words';
import { NumberField, useNumberDraft } from '../../parts/number-field';
import { plateIf } from '../../parts/plate';

type Sender = JobState['senders'][number];

/** One point: what thermometer, pump or master gauge says and what the ohmmeter says. */
export function TypedPoint(props: {
  readonly sender: Sender;
  readonly state: Pick<JobState, 'gauge' | 'place'>;
  readonly send: (command: JobCommand) => Promise<Outcome>;
  /** Nothing comes before its points. */
  readonly isPlate: boolean;
}): JSX.Element {
  const words = senderWords(props.state, props.sender.unit);
  const value = useNumberDraft('', props.sender.unit);
  const ohm = useNumberDraft('', 'ohm');
  const form = useRef<HTMLDivElement>(null);
  const isSending = useRef(false);
  const drafts = useRef([value, ohm]);
  drafts.current = [value, ohm];
  const isWhole = value.value !== undefined && ohm.value !== undefined && ohm.value >= 0;
  const add = async (): Promise<void> => {
    if (isSending.current || value.value === undefined || ohm.value === undefined || ohm.value < 0) return;
    const sent = [value.text, ohm.text];
    isSending.current = true;
    const outcome = await props.send({
      kind: 'add-sender-point',
      senderId: props.sender.senderId,
      value: value.value,
      resistanceOhm: ohm.value,
      source: 'person',
    });
    isSending.current = false;
    // What was refused is mended where it stands; what was typed meanwhile stays too.
    if (outcome.kind === 'refused') return;
    for (const [index, draft] of drafts.current.entries()) if (draft.text === sent[index]) draft.setText('');
    form.current?.querySelector('input')?.focus();
  };
  return (
    <div class="stack" ref={form}>
      <p class="prompt">{words.asks}</p>
      <div class="fields">
        <NumberField
          label={words.label}
          unit={shownUnit(props.sender.unit)}
          draft={value}
          onEnter={() => void add()}
        />
        <NumberField
          label="Resistance"
          unit="ohm"
          draft={ohm}
          onEnter={() => void add()}
          hint="1200, 1 200 and 1k2 are the same."
        />
      </div>
      <div>
        <button type="button" class={plateIf(props.isPlate)} disabled={!isWhole} onClick={() => void add()}>
          Add the point
        </button>
      </div>
      <p class="hint">{words.hint}</p>
    </div>
  );
}
