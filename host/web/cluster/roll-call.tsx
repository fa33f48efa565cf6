import type { JSX } from 'preact';
import type { ClusterDoing } from '../../job/wire/cluster-messages';
import type { ClusterConnection } from '../connection/cluster-connection';
import type { JobConnection } from '../connection/job-connection';
import { AnswerButton, OnePress } from '../parts/one-press';
import { useSignal } from '../signal';
import { Dashes } from './dashes';
import { gaugeName } from './gauge-words';

type Calling = Extract<ClusterDoing, { kind: 'roll-call' }>;
type RollCallProps = {
  readonly cluster: ClusterConnection;
  readonly doing: Calling;
  readonly reader: string | undefined;
};

const NOTHING = [
  { nothing: 'none', words: 'None moved' },
  { nothing: 'several', words: 'Several moved' },
  { nothing: 'not-sure', words: 'Not sure' },
] as const;

/** Each box moves its needle once: which one was it? Nothing else is driven before. */
export function RollCall({ cluster, doing, reader }: RollCallProps): JSX.Element {
  const jobs = useSignal(cluster.jobs);
  const { boxSerial, called, of, isAsked } = doing;
  const isReader = reader === undefined || reader === cluster.screen;
  return (
    <section class="station stack" aria-label="Roll call">
      <p class="soft">
        Roll call: box {Math.min(called + 1, of)} of {of}
      </p>
      <Dashes jobs={jobs} />
      {isAsked && boxSerial !== undefined && isReader ? (
        <OnePress question={`roll ${boxSerial}`}>
          <p class="prompt" role="status">
            Box {boxSerial} has moved: which needle did?
          </p>
          <div class="answers-of-places">
            {jobs.map((job) => (
              <Place
                key={job.jobId}
                job={job}
                onSaid={() =>
                  void cluster.send({ kind: 'say-moved', boxSerial, moved: { jobId: job.jobId } })
                }
              />
            ))}
            {NOTHING.map(({ nothing, words }) => (
              <AnswerButton
                key={nothing}
                class="button"
                onClick={() => void cluster.send({ kind: 'say-moved', boxSerial, moved: { nothing } })}
              >
                {words}
              </AnswerButton>
            ))}
          </div>
        </OnePress>
      ) : (
        <>
          <p class="prompt" role="status">
            {isAsked && !isReader
              ? `${reader ?? 'Another screen'} is asked which needle moved`
              : boxSerial === undefined
                ? 'All needles come to rest'
                : `Watch the needles: box ${boxSerial} moves one`}
          </p>
          <p>The others stand still. A needle that creeps to its place takes half a minute.</p>
        </>
      )}
    </section>
  );
}

function Place({ job, onSaid }: { readonly job: JobConnection; readonly onSaid: () => void }): JSX.Element {
  const state = useSignal(job.state);
  return (
    <AnswerButton class="button" onClick={onSaid}>
      {gaugeName(state, job.place ?? '')}
    </AnswerButton>
  );
}
