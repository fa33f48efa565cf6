import type { JSX } from 'preact';
import type { JobConnection } from '../connection/job-connection';
import { useSignal } from '../signal';
import { asSentence } from '../../words/sentence';

/** What the host would not do, where the hands are: at the foot of the window, whatever part of the sheet is in sight. */
export function Refused({ job }: { readonly job: Pick<JobConnection, 'refusal'> }): JSX.Element | null {
  const refusal = useSignal(job.refusal);
  if (refusal === undefined) return null;
  return (
    <div class="refused" role="alert">
      <p>
        <strong>Not done.</strong> {asSentence(refusal.message)}
      </p>
      <button type="button" class="button" onClick={() => job.refusal.set(undefined)}>
        Seen
      </button>
    </div>
  );
}
