import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { JobSummary, Refusal } from '../../job/wire/job-messages';
import type { App } from '../app';
import { archiveJob, deleteJob, duplicateJob, restoreJob, type Answer } from '../connection/http';
import { Note } from '../parts/note';
import type { ShelfDeed } from './job-row';

/** What was just done with a job, and how it is taken back. */
type Done = { readonly words: string; readonly undo: () => Promise<Answer<unknown>> };

/** Archive, delete and begin again: each is told, and taken back by one tap until something else is done. */
export function useShelf(app: App) {
  const [openId, setOpenId] = useState<string | undefined>(undefined);
  const [done, setDone] = useState<Done | undefined>(undefined);
  const [trouble, setTrouble] = useState<Refusal | undefined>(undefined);
  const after = async (answer: Answer<unknown>, told: Done | undefined): Promise<void> => {
    const isRefused = isRefusal(answer);
    setTrouble(isRefused ? answer : undefined);
    if (isRefused) return;
    setOpenId(undefined);
    setDone(told);
    await app.refresh();
  };
  const archive = async (job: JobSummary, isArchived: boolean): Promise<void> =>
    after(await archiveJob(job.jobId, isArchived), {
      words: `${isArchived ? 'Archived' : 'Back from the archive'}: ${nameOf(job)}.`,
      undo: () => archiveJob(job.jobId, !isArchived),
    });
  const remove = async (job: JobSummary): Promise<void> => {
    const answer = await deleteJob(job.jobId);
    if (isRefusal(answer)) return after(answer, undefined);
    const { name } = answer.body;
    return after(answer, {
      words: `Deleted: ${nameOf(job)}. Its journal is kept among the deleted ones of the jobs folder.`,
      undo: () => restoreJob(name),
    });
  };
  const again = async (job: JobSummary): Promise<void> => {
    const answer = await duplicateJob(job.jobId);
    if (isRefusal(answer)) setTrouble(answer);
    else location.hash = `#/job/${encodeURIComponent(answer.body.jobId)}`;
  };
  return {
    openId,
    done,
    trouble,
    open: (jobId: string): void => setOpenId(openId === jobId ? undefined : jobId),
    does: (job: JobSummary, deed: ShelfDeed): Promise<void> => {
      switch (deed) {
        case 'archive':
          return archive(job, true);
        case 'unarchive':
          return archive(job, false);
        case 'delete':
          return remove(job);
        case 'duplicate':
          return again(job);
      }
    },
    undo: async (): Promise<void> => {
      if (done !== undefined) await after(await done.undo(), undefined);
    },
  };
}

const nameOf = ({ title, vehicle }: JobSummary): string => `${title}, ${vehicle}`;

const isRefusal = <T,>(answer: Answer<T>): answer is Refusal => answer.kind === 'refused';

/** What was done last, with its undo; or why it was not done. */
export function ShelfNews({ shelf }: { readonly shelf: ReturnType<typeof useShelf> }): JSX.Element | null {
  const { done, trouble } = shelf;
  return (
    <>
      {trouble === undefined ? null : (
        <Note kind="wrong">
          <p>{trouble.message}</p>
        </Note>
      )}
      {done === undefined ? null : (
        <p class="row shelf-done" role="status">
          {done.words}
          <button type="button" class="button" onClick={() => void shelf.undo()}>
            Undo
          </button>
        </p>
      )}
    </>
  );
}
