import type { JSX } from 'preact';
import { useLayoutEffect, useMemo } from 'preact/hooks';
import type { JobState } from '../../job/state/state';
import { countedReadings } from '../../job/state/views';
import type { ClusterDoing } from '../../job/wire/cluster-messages';
import type { LiveFrame } from '../../job/wire/job-messages';
import type { App } from '../app';
import type { ClusterConnection } from '../connection/cluster-connection';
import type { JobConnection } from '../connection/job-connection';
import { Dial } from '../dial/dial';
import { faceOf, fractionFromReading } from '../dial/dial-geometry';
import { SimulatedDash } from '../dial/simulated-dash';
import { confirmed, entryReading, UNSET } from '../entry/entry';
import { confirmNow, ReadingDial, ReadingHands, StopButtons } from '../entry/reading-entry';
import { shownOhm, shownReading } from '../parts/words';
import { UndoButton } from '../parts/undo-button';
import { useSignal } from '../signal';
import { isPedal, usePageKeys } from '../stations/sweep/page-keys';
import { Doubt } from './doubt';
import { gaugeName, quantityOf, settlingMs, soonest } from './gauge-words';
import { Queue } from './queue';
import { useStates } from './use-states';

type Sweeping = Extract<ClusterDoing, { kind: 'sweep' }>;
type RunningProps = {
  readonly app: App;
  readonly cluster: ClusterConnection;
  readonly doing: Sweeping;
  readonly reader: string | undefined;
};

/** All gauges sweep: the needle to read now is large, the others settle beside it. */
export function RunningCluster(props: RunningProps): JSX.Element {
  const { cluster, doing } = props;
  const jobs = useSignal(cluster.jobs);
  const { next } = useSignal(cluster.now);
  const job = jobs.find(({ jobId }) => jobId === (doing.doubt?.jobId ?? next?.jobId)) ?? soonest(jobs);
  return job === undefined ? (
    <p>One moment.</p>
  ) : (
    <AtNeedle key={job.jobId} {...props} job={job} jobs={jobs} />
  );
}

type NeedleProps = RunningProps & { readonly job: JobConnection; readonly jobs: readonly JobConnection[] };
type KnownProps = NeedleProps & {
  readonly state: JobState;
  readonly frame: LiveFrame;
  readonly stepId: string | undefined;
  readonly isAsked: boolean;
};

function AtNeedle(props: NeedleProps): JSX.Element {
  const { app, job, doing, cluster } = props;
  const state = useSignal(job.state);
  const frame = useSignal(job.live);
  const waiting = frame?.waiting;
  const stepId = waiting?.kind === 'answer' ? waiting.stepId : undefined;
  // What was put on another gauge's dial is no reading of this one.
  useLayoutEffect(() => app.entry.set(UNSET), [job.jobId, stepId]);
  if (state === undefined || frame === undefined) return <p>One moment.</p>;
  const isReader = props.reader === undefined || props.reader === cluster.screen;
  const isAsked = isReader && stepId !== undefined && doing.waiters[0]?.jobId === job.jobId;
  const known = { ...props, state, frame, stepId, isAsked };
  const given = props.jobs.reduce((sum, each) => sum + (each.state.get()?.readings.length ?? 0), 0);
  return (
    <div class={`run run-cluster ${isAsked ? 'run-read' : 'run-wait'}`} data-given={given}>
      <section class="panel gauge" aria-label="The gauges">
        <Board {...known} />
      </section>
      <section class="say entry" aria-label="What to do">
        {isReader ? <Asked {...known} /> : <Watching {...known} />}
      </section>
    </div>
  );
}

function Board(props: KnownProps): JSX.Element {
  const { app, job, jobs, state, isAsked, doing } = props;
  const face = useMemo(() => faceOf(state.gauge), [state.gauge]);
  const dash = useMemo(() => faceOf(state.printed ?? state.gauge), [state.printed, state.gauge]);
  const last = countedReadings(state).at(-1);
  const isFree = isAsked && doing.doubt === undefined;
  return (
    <div class="board">
      <div class="board-large">
        {state.simulated ? <SimulatedDash job={job} face={dash} /> : null}
        {isFree ? (
          <ReadingDial {...readingProps(props)} entry={app.entry} face={face} />
        ) : (
          <Dial
            face={face}
            fraction={undefined}
            lastFraction={
              last === undefined ? undefined : fractionFromReading(state.gauge.marks, last.reading)
            }
            label={`Last reading, ${gaugeName(state, job.place ?? '')}`}
            valueText={last === undefined ? 'none yet' : shownReading(last.reading, state.gauge)}
          />
        )}
      </div>
      <Queue jobs={jobs.filter((each) => each !== job)} nextJobId={nextAfter(props)} />
    </div>
  );
}

const nextAfter = ({ doing, job }: KnownProps): string | undefined =>
  doing.waiters.find(({ jobId }) => jobId !== job.jobId)?.jobId;

function Asked(props: KnownProps): JSX.Element {
  const { cluster, job, state, frame, isAsked, doing } = props;
  const face = useMemo(() => faceOf(state.gauge), [state.gauge]);
  const name = gaugeName(state, job.place ?? '');
  if (doing.doubt !== undefined) return <Doubt {...props} doubt={doing.doubt} />;
  if (doing.waiters[0]?.jobId === job.jobId && doing.waiters[0].wants === 'short-step')
    return <ShortStep cluster={cluster} job={job} name={name} />;
  if (!isAsked) return <Settling {...props} name={name} />;
  return (
    <>
      <p class="prompt prompt-read" role="status" aria-live="assertive">
        Read {name}
      </p>
      <p class="hint">
        {frame.output.madeOhm === undefined ? '' : `${shownOhm(frame.output.madeOhm)}. `}
        {mustEndWords(frame)}
        <span class="wide-only">
          Reading {(frame.progress?.done ?? 0) + 1} of its {frame.progress?.total ?? 0}.
        </span>
      </p>
      <Hands {...props} face={face} />
      <Actions {...props} />
    </>
  );
}

const MS_PER_SECOND = 1000;
const mustEndWords = ({ waiting }: LiveFrame): string =>
  waiting.kind === 'answer' && waiting.mustEndInMs !== undefined
    ? `Held low for ${Math.ceil(waiting.mustEndInMs / MS_PER_SECOND)} s more. `
    : '';

/** A foot pedal confirms what the needle was set to; L takes another needle first. */
function Hands(props: KnownProps & { readonly face: ReturnType<typeof faceOf> }): JSX.Element {
  const { app, cluster, job } = props;
  const given = { ...readingProps(props), entry: app.entry, face: props.face };
  usePageKeys((key) => {
    if (isPedal(key)) confirmNow(given);
    if (key === 'l') void cluster.send({ kind: 'later', jobId: job.jobId });
    return isPedal(key) || key === 'l';
  });
  return <ReadingHands {...given} />;
}

function readingProps({ app, cluster, job, state, isAsked, stepId }: KnownProps) {
  const { gauge } = state;
  const onConfirm = (): void => {
    const entry = app.entry.get();
    const reading = entryReading(gauge, entry);
    if (!isAsked || stepId === undefined || reading === undefined) return;
    const atStop = entry.atStop === undefined ? {} : { atStop: entry.atStop };
    const command = { kind: 'give-reading' as const, stepId, reading, unit: gauge.unit, ...atStop };
    app.entry.set(confirmed(entry));
    void cluster.send({ kind: 'give', jobId: job.jobId, command });
  };
  return { gauge, isReady: isAsked, onConfirm };
}

function Actions({ app, cluster, job, jobs, state, stepId }: KnownProps): JSX.Element {
  useStates(jobs);
  const newest = [...jobs].sort((one, other) => lastAt(other) - lastAt(one))[0];
  const undoState = newest?.state.get();
  return (
    <div class="actions">
      <StopButtons entry={app.entry} />
      <div class="lesser">
        <button
          type="button"
          class="button"
          onClick={() => void cluster.send({ kind: 'later', jobId: job.jobId })}
        >
          Later
        </button>
        <button
          type="button"
          class="button"
          disabled={stepId === undefined}
          onClick={() => stepId !== undefined && void job.send({ kind: 'wait-longer', stepId })}
        >
          Not steady
        </button>
        {newest === undefined || undoState === undefined || state.readings.length === 0 ? null : (
          <UndoButton job={newest} state={undoState} group="sweep" words="Undo last" />
        )}
      </div>
    </div>
  );
}

const lastAt = (job: JobConnection): number => Date.parse(job.state.get()?.readings.at(-1)?.at ?? '') || 0;

function ShortStep(props: {
  readonly cluster: ClusterConnection;
  readonly job: JobConnection;
  readonly name: string;
}): JSX.Element {
  const { cluster, job, name } = props;
  const begin = (): void => void cluster.send({ kind: 'begin-short', jobId: job.jobId });
  usePageKeys((key) => {
    if (isPedal(key)) begin();
    return isPedal(key);
  });
  return (
    <>
      <p class="prompt prompt-read" role="status" aria-live="assertive">
        Look at {name} now
      </p>
      <p class="hint">This step may be held for seconds only. It is made when you look.</p>
      <div class="hands">
        <div class="plate-row">
          <button type="button" class="button button-main button-wide" onClick={begin}>
            I am looking: make it
          </button>
        </div>
      </div>
    </>
  );
}

function Settling({ state, frame, name }: KnownProps & { readonly name: string }): JSX.Element {
  const last = countedReadings(state).at(-1);
  const leftMs = settlingMs(frame);
  return (
    <>
      <p class="prompt" role="status">
        Next: {name}
      </p>
      {leftMs === undefined ? null : <p class="seconds">{Math.ceil(leftMs / MS_PER_SECOND)} s</p>}
      <p class="hint">
        Hands off; a tone says when.{' '}
        {last === undefined ? '' : `Last read ${shownReading(last.reading, state.gauge)}.`}
      </p>
    </>
  );
}

function Watching({ cluster, reader, state }: KnownProps): JSX.Element {
  const right = useSignal(cluster.right);
  return (
    <>
      <p class="prompt" role="status">
        {reader ?? 'Another screen'} reads {quantityOf(state)} now
      </p>
      <p class="hint">This screen only watches, and may stop.</p>
      {right === 'watch' ? null : (
        <div class="hands">
          <div class="plate-row">
            <button
              type="button"
              class="button button-main button-wide"
              onClick={() => void cluster.send({ kind: 'take-over' })}
            >
              Take over here
            </button>
          </div>
        </div>
      )}
    </>
  );
}
