import { conditionOf } from '../../job/state/cluster-sheet';
import type { ClusterState } from '../../job/state/cluster-state';
import type { JobState } from '../../job/state/state';
import type { JobEvent } from '../../job/schema/events';
import { clusterPdf } from '../../record/cluster-file';
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

/** What a page asks of a cluster's sheet. */
export type ClusterTask = {
  readonly cluster: ClusterState;
  readonly gauges: readonly { readonly place: string; readonly job: JobState }[];
  readonly program: string;
  readonly wants: 'a4' | 'letter';
};

export type DrawTask = RecordTask | ClusterTask;

export type RecordAnswer =
  | { readonly kind: 'sheets'; readonly sheets: readonly string[] }
  | { readonly kind: 'file'; readonly bytes: Uint8Array }
  | { readonly kind: 'no-job' };

/** Draws what is asked for. Runs in the drawing thread. */
export const draw = (task: DrawTask): Promise<RecordAnswer> =>
  'cluster' in task ? drawCluster(task) : drawRecord(task);

/** Every gauge's curve as found and as left is fitted for it. */
async function drawCluster({ cluster, gauges, program, wants }: ClusterTask): Promise<RecordAnswer> {
  const rows = gauges.map(({ place, job }) => ({
    place,
    job,
    found: conditionOf(job, 'as-found'),
    left: conditionOf(job, 'as-left'),
  }));
  return { kind: 'file', bytes: await clusterPdf({ state: cluster, gauges: rows }, wants, program) };
}

/** Draws the record of a journal. A trim is searched for it anew, which takes seconds. */
async function drawRecord(task: RecordTask): Promise<RecordAnswer> {
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
