import type { JSX } from 'preact';
import { useMemo } from 'preact/hooks';
import { countedReadings } from '../../job/state/views';
import type { JobConnection } from '../connection/job-connection';
import { Dial } from '../dial/dial';
import { faceOf, fractionFromReading } from '../dial/dial-geometry';
import { shownReading } from '../parts/words';
import { useSignal } from '../signal';
import { quantityOf, standingWords, waitShare } from './gauge-words';

type QueueProps = {
  readonly jobs: readonly JobConnection[];
  /** Whose needle is read after the present one. */
  readonly nextJobId: string | undefined;
};

const PERCENT = 100;

/** The needles that are not read now: small, where they were read last, and how far their waits are. */
export const Queue = ({ jobs, nextJobId }: QueueProps): JSX.Element => (
  <ol class="queue" aria-label="The other gauges">
    {jobs.map((job) => (
      <QueuedGauge key={job.jobId} job={job} isNext={job.jobId === nextJobId} />
    ))}
  </ol>
);

function QueuedGauge({
  job,
  isNext,
}: {
  readonly job: JobConnection;
  readonly isNext: boolean;
}): JSX.Element {
  const state = useSignal(job.state);
  const frame = useSignal(job.live);
  const face = useMemo(() => (state === undefined ? undefined : faceOf(state.gauge)), [state?.gauge]);
  const last = state === undefined ? undefined : countedReadings(state).at(-1);
  const isReady = frame?.waiting.kind === 'answer';
  const { done, total } = frame?.progress ?? { done: 0, total: 0 };
  return (
    <li class={isReady ? 'queue-ready' : ''}>
      {state === undefined || face === undefined ? null : (
        <Dial
          face={face}
          fraction={undefined}
          lastFraction={last === undefined ? undefined : fractionFromReading(state.gauge.marks, last.reading)}
          label={`${quantityOf(state)}, ${job.place ?? ''}, last reading`}
          valueText={last === undefined ? 'none yet' : shownReading(last.reading, state.gauge)}
        />
      )}
      <p>
        <b>{state === undefined ? job.place : quantityOf(state)}</b>
        <span>{job.place}</span>
        <span class="queue-stands">{standingWords(frame, isNext)}</span>
        <span class="wide-only">
          {done} of {total} read
        </span>
        <i class="queue-wait" aria-hidden="true">
          <i style={{ width: `${(PERCENT * waitShare(frame)).toFixed(0)}%` }} />
        </i>
      </p>
    </li>
  );
}
