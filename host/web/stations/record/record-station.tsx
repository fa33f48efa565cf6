import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { JobCommand } from '../../../job/schema/commands';
import { recordFileAddress } from '../../connection/http';
import { TextField } from '../../parts/text-field';
import type { StationProps } from '../station-props';
import { DrawnSheets, useDrawnSheets } from './drawn-sheets';
import { ParticularsForm } from './particulars-form';
import { Photographs } from './photographs';

/** The record as it goes with the car: its sheets, which are printed as they stand here, or taken away as a file. */
export function RecordStation({ job, state }: StationProps): JSX.Element {
  const [note, setNote] = useState('');
  const drawn = useDrawnSheets(job.jobId, state.lastN);
  const send = (command: JobCommand): void => void job.send(command);
  const print = (): void => {
    send({ kind: 'note-record', file: `printed sheet of ${state.jobId}`, format: 'print' });
    window.print();
  };
  return (
    <div class="stack">
      <div class="stack screen-only">
        <ParticularsForm state={state} send={send} />
        <Photographs jobId={job.jobId} state={state} send={send} />
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
        <p class="row">
          <FileLink jobId={job.jobId} form="a4" words="PDF file, A4" />
          <FileLink jobId={job.jobId} form="letter" words="PDF file, Letter" />
          <FileLink jobId={job.jobId} form="label" words="Label for the loom" />
        </p>
      </div>
      <DrawnSheets drawn={drawn} />
    </div>
  );
}

type LinkProps = {
  readonly jobId: string;
  readonly form: 'a4' | 'letter' | 'label';
  readonly words: string;
};

const FileLink = ({ jobId, form, words }: LinkProps): JSX.Element => (
  <a class="button button-plain" href={recordFileAddress(jobId, form)} download>
    {words}
  </a>
);
