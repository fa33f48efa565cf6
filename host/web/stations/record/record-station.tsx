import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { JobCommand } from '../../../job/schema/commands';
import { useSignal } from '../../signal';
import { TextField } from '../../parts/text-field';
import type { StationProps } from '../station-props';
import { RecordSheet } from './record-sheet';

/** The sheet as it goes with the car: printed, or kept as a PDF by the browser's own print. */
export function RecordStation({ job, state }: StationProps): JSX.Element {
  const findings = useSignal(job.findings.findings);
  const [note, setNote] = useState('');
  const send = (command: JobCommand): void => void job.send(command);
  const print = (): void => {
    send({ kind: 'note-record', file: `printed sheet of ${state.jobId}`, format: 'print' });
    window.print();
  };
  return (
    <div class="stack">
      <div class="stack screen-only">
        <TextField label="A remark for whoever reads this next" text={note} onText={setNote} rows={2} />
        <div class="row">
          <button
            type="button"
            class="button"
            disabled={note.trim() === ''}
            onClick={() => {
              send({ kind: 'add-note', text: note.trim() });
              setNote('');
            }}
          >
            Add the remark
          </button>
          <button type="button" class="button button-main" onClick={print}>
            Print the record
          </button>
        </div>
      </div>
      <RecordSheet state={state} findings={findings} />
    </div>
  );
}
