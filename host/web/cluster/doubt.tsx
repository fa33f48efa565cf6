import type { JSX } from 'preact';
import type { JobState } from '../../job/state/state';
import type { ClusterDoing } from '../../job/wire/cluster-messages';
import type { ClusterConnection } from '../connection/cluster-connection';
import type { JobConnection } from '../connection/job-connection';
import { AnswerButton, OnePress } from '../parts/one-press';
import { shownReading } from '../parts/words';
import { gaugeName } from './gauge-words';

type DoubtProps = {
  readonly cluster: ClusterConnection;
  readonly job: JobConnection;
  readonly jobs: readonly JobConnection[];
  readonly state: JobState;
  readonly doubt: NonNullable<Extract<ClusterDoing, { kind: 'sweep' }>['doubt']>;
};

/** An answer that fits another needle: one tap moves it there, one keeps it. */
export function Doubt({ cluster, job, jobs, state, doubt }: DoubtProps): JSX.Element {
  const other = jobs.find(({ jobId }) => jobId === doubt.otherJobId);
  const otherState = other?.state.get();
  const name = gaugeName(state, job.place ?? '');
  const otherName = gaugeName(otherState, other?.place ?? 'another place');
  const { reading, stepId } = doubt;
  const moved = async (): Promise<void> => {
    const waiting = other?.live.get()?.waiting;
    await cluster.send({ kind: 'read-again' });
    if (other === undefined || waiting?.kind !== 'answer' || otherState === undefined) return;
    const command = {
      kind: 'give-reading' as const,
      stepId: waiting.stepId,
      reading,
      unit: otherState.gauge.unit,
    };
    await cluster.send({ kind: 'give', jobId: other.jobId, isSure: true, command });
  };
  const kept = (): void => {
    const command = { kind: 'give-reading' as const, stepId, reading, unit: state.gauge.unit };
    void cluster.send({ kind: 'give', jobId: job.jobId, isSure: true, command });
  };
  return (
    <OnePress question={`${doubt.jobId} ${stepId} ${reading}`}>
      <p class="prompt prompt-read" role="alert">
        Did you read {otherName}?
      </p>
      <p class="hint">
        {shownReading(reading, state.gauge)} is far from where {name} is expected, and {otherName} stands
        about there.
      </p>
      <div class="hands">
        <div class="plate-row">
          <AnswerButton class="button" onClick={() => void moved()}>
            Yes: that was {otherName}
          </AnswerButton>
          <AnswerButton class="button" onClick={kept}>
            No: {name} reads {shownReading(reading, state.gauge)}
          </AnswerButton>
        </div>
      </div>
    </OnePress>
  );
}
