import type { JSX } from 'preact';
import { useMemo, useState } from 'preact/hooks';
import type { JobCommand } from '../../../job/commands';
import type { JobState } from '../../../job/state';
import { faceOf } from '../../dial/dial-geometry';
import { entryReading, type Entry } from '../../model/entry';
import type { Signal } from '../../model/signal';
import { shownUnit } from '../../model/words';
import { Note } from '../../parts/note';
import { NumberField, useNumberDraft } from '../../parts/number-field';
import { TextField } from '../../parts/text-field';
import { ReadingEntry } from '../sweep/reading-entry';

type AsFoundProps = {
  readonly state: JobState;
  readonly entry: Signal<Entry>;
  readonly send: (command: JobCommand) => void;
};

const STATES: Readonly<Record<JobState['gauge']['quantity'], readonly string[]>> = {
  temperature: ['engine cold', 'engine warm, idling', 'thermostat open'],
  fuel: ['tank empty', 'tank half', 'tank full'],
  pressure: ['engine off', 'idling hot', 'running hot'],
  other: ['at rest', 'in use'],
};

/** What the gauge says before anything is touched; adjustment would destroy it for ever. */
export function AsFoundStep({ state, entry, send }: AsFoundProps): JSX.Element {
  const { gauge } = state;
  const face = useMemo(() => faceOf(gauge), [gauge]);
  const reference = useNumberDraft();
  const [natural, setNatural] = useState(STATES[gauge.quantity][0] ?? 'at rest');
  const confirm = (): void => {
    const indicated = entryReading(gauge, entry.get());
    if (indicated === undefined || reference.problem !== undefined) return;
    send({
      kind: 'record-as-found',
      state: natural,
      indicated,
      ...(reference.value === undefined ? {} : { reference: reference.value }),
    });
  };
  return (
    <div class="stack">
      <p class="prompt">Touch nothing yet. What does the gauge show now?</p>
      {gauge.quantity === 'temperature' && state.place === 'car' ? (
        <Note kind="caution">
          <p>
            Never open a hot cooling system: it holds water above 100 {'\u00b0'}C under pressure. Fans start
            by themselves; keep hands and leads clear.
          </p>
        </Note>
      ) : null}
      <div class="columns">
        <div class="stack">
          <TextField
            label="In what state?"
            text={natural}
            onText={setNatural}
            suggestions={STATES[gauge.quantity]}
          />
          <NumberField
            label="True value, if you know it"
            unit={shownUnit(gauge.unit)}
            draft={reference}
            hint="By a thermometer you trust, a pump, a master gauge. Leave empty if not known."
          />
        </div>
        <ReadingEntry
          gauge={gauge}
          face={face}
          entry={entry}
          ghostFraction={undefined}
          isReady={natural.trim() !== ''}
          onConfirm={confirm}
        />
      </div>
    </div>
  );
}
