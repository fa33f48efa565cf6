import type { JobEvent } from '../../job/schema/events';
import { recordOfJournal } from '../../record/record-file';
import type { Picture } from '../../record/paper/items';
import { findingsOfJob } from '../findings/findings-of-job';

/** What a page asks of a job's record. Plain data: it is posted to the thread that draws. */
export type RecordTask = {
  readonly events: readonly JobEvent[];
  readonly program: string;
  readonly photographs: readonly Picture[];
  /** Where a page fetches a photograph from: its number is added. */
  readonly photographsAt: string;
  readonly wants: 'sheets' | 'a4' | 'letter' | 'label';
};

export type RecordAnswer =
  | { readonly kind: 'sheets'; readonly sheets: readonly string[] }
  | { readonly kind: 'file'; readonly bytes: Uint8Array }
  | { readonly kind: 'no-job' };

/** Draws the record of a journal. Runs in the drawing thread: a trim is searched for it anew, which takes seconds. */
export async function drawRecord(task: RecordTask): Promise<RecordAnswer> {
  const { events, program, photographs, photographsAt, wants } = task;
  const record = recordOfJournal({ events, findings: findingsOfJob, program, photographs });
  if (record === undefined) return { kind: 'no-job' };
  switch (wants) {
    case 'sheets':
      return {
        kind: 'sheets',
        sheets: record.svgSheets(
          ({ photographId }) => `${photographsAt}/${encodeURIComponent(photographId)}`,
        ),
      };
    case 'label':
      return { kind: 'file', bytes: await record.labelPdf() };
    case 'a4':
    case 'letter':
      return { kind: 'file', bytes: await record.pdf(wants) };
  }
}
