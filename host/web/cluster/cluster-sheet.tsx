import type { JSX } from 'preact';
import type { ClusterState } from '../../job/state/cluster-state';
import type { ClusterFrame } from '../../job/wire/cluster-messages';
import type { App } from '../app';
import type { ClusterConnection } from '../connection/cluster-connection';
import { Boundary, OldPage } from '../frame/old-page';
import { Panel } from '../frame/panel';
import { Note } from '../parts/note';
import { Refused } from '../parts/refused';
import { asSentence } from '../../words/sentence';
import { useSignal } from '../signal';
import { Dashes } from './dashes';
import { RollCall } from './roll-call';
import { RunningCluster } from './running';
import { Standing, Trouble } from './standing';
import { StopAll, Stopped } from './stop-all';
import { gaugeName } from './gauge-words';

export type ClusterParts = { readonly app: App; readonly cluster: ClusterConnection };

/** One cluster: what is done with its gauges together, and the sheet of what was found and left. */
export function ClusterSheet({ app, cluster }: ClusterParts): JSX.Element {
  const state = useSignal(cluster.state);
  const frame = useSignal(cluster.live);
  const refusal = useSignal(cluster.refusal);
  const connection = useSignal(cluster.connection);
  if (state === undefined || frame === undefined)
    return (
      <>
        <Panel title={connection === 'lost' ? 'The host does not answer' : 'Fetching the cluster'} />
        <main class="wrap paper stack">
          <OldPage app={app} />
          <p>
            {refusal?.message ?? (connection === 'lost' ? 'This page tries again by itself.' : 'One moment.')}{' '}
            <a href="#/clusters">All clusters</a>
          </p>
        </main>
        <div class="foot screen-only">
          <StopAll cluster={cluster} />
        </div>
      </>
    );
  return <Opened app={app} cluster={cluster} state={state} frame={frame} />;
}

/** What tripped, why, and what to do; a person clears it, gauge by gauge. */
function Trips({ cluster }: { readonly cluster: ClusterConnection }): JSX.Element | null {
  const { isTripped } = useSignal(cluster.now);
  const jobs = useSignal(cluster.jobs);
  if (!isTripped) return null;
  return (
    <>
      {jobs.map((job) => {
        const trip = job.live.get()?.trip;
        return trip === undefined ? null : (
          <Note key={job.jobId} kind="wrong" word="Tripped">
            <p>
              <strong>{gaugeName(job.state.get(), job.place ?? '')}:</strong> {asSentence(trip.reason)}{' '}
              {trip.remedy === undefined ? '' : asSentence(trip.remedy)}
            </p>
            <div>
              <button type="button" class="button" onClick={() => void job.send({ kind: 'clear-trip' })}>
                The cause is gone: clear the trip
              </button>
            </div>
          </Note>
        );
      })}
    </>
  );
}

type OpenedParts = ClusterParts & { readonly state: ClusterState; readonly frame: ClusterFrame };

function Opened(parts: OpenedParts): JSX.Element {
  const { app, cluster, state, frame } = parts;
  const { doing } = frame;
  const isRunning = doing.kind === 'sweep';
  return (
    <div class={`bench ${isRunning ? 'bench-run' : ''}`}>
      <Boundary>
        <Panel
          title={state.title}
          whose={`${state.vehicle} \u00b7 cluster of ${state.gauges.length}`}
          isSimulated={state.simulated}
          lamp={<LiveLamp cluster={cluster} />}
        >
          {isRunning ? <ClusterScale cluster={cluster} /> : null}
        </Panel>
        <main class={isRunning ? 'paper' : 'wrap paper'}>
          <div class="notices screen-only">
            <OldPage app={app} />
            <Stopped cluster={cluster} />
            <Trouble frame={frame} />
            <Trips cluster={cluster} />
          </div>
          <Body {...parts} />
        </main>
      </Boundary>
      <div class="foot screen-only">
        <Refused job={cluster} />
        <StopAll cluster={cluster} />
      </div>
    </div>
  );
}

function Body({ app, cluster, state, frame }: OpenedParts): JSX.Element {
  const { doing, reader } = frame;
  const jobs = useSignal(cluster.jobs);
  switch (doing.kind) {
    case 'nothing':
      return <Standing app={app} cluster={cluster} state={state} frame={frame} />;
    case 'roll-call':
      return <RollCall cluster={cluster} doing={doing} reader={reader} />;
    case 'neighbours': {
      const moved = jobs.find(({ jobId }) => jobId === doing.movedJobId);
      return (
        <section class="station stack" aria-label="Neighbour test">
          <p class="soft">
            Neighbour test: {doing.moved} of {doing.of} done
          </p>
          <p class="prompt" role="status">
            {moved === undefined
              ? 'All gauges go to rest'
              : `${gaugeName(moved.state.get(), moved.place ?? '')} goes from end to end`}
          </p>
          <p>The boxes measure what the others feel. Nothing is to be read.</p>
          <Dashes jobs={jobs} />
        </section>
      );
    }
    case 'sweep':
      return (
        <section class="station" aria-label="Sweep">
          <RunningCluster app={app} cluster={cluster} doing={doing} reader={reader} />
        </section>
      );
  }
}

function LiveLamp({ cluster }: { readonly cluster: ClusterConnection }): JSX.Element {
  const { liveCount } = useSignal(cluster.now);
  const frame = useSignal(cluster.live);
  const boxes = frame?.boxes.length ?? 0;
  const words =
    liveCount > 0
      ? `${liveCount} ${liveCount === 1 ? 'output' : 'outputs'} live`
      : boxes === 0
        ? 'No box'
        : `${boxes} ${boxes === 1 ? 'box' : 'boxes'}, all open`;
  return (
    <span class={`lamp ${liveCount > 0 ? 'lamp-live' : boxes > 0 ? 'lamp-on' : ''}`}>
      <i aria-hidden="true" />
      <span>{words}</span>
    </span>
  );
}

/** How many readings of all, and how long yet. */
function ClusterScale({ cluster }: { readonly cluster: ClusterConnection }): JSX.Element | null {
  const { done, total, minutesLeft } = useSignal(cluster.now);
  if (total === 0) return null;
  return (
    <div class="wrap steps">
      <p class="steps-line">
        <span>
          Reading <b>{Math.min(done + 1, total)}</b> of {total}
        </span>
        <span class="dim wide-only">the others settle meanwhile</span>
        <span class="push">{minutesLeft < 1 ? 'under 1' : minutesLeft} min left</span>
      </p>
      <svg class="steps-scale" viewBox={`0 0 ${total} 9`} preserveAspectRatio="none" aria-hidden="true">
        <path class="steps-line-base" d={`M0 1H${total}`} />
        <path class="steps-done" d={`M0 2H${done}`} />
      </svg>
    </div>
  );
}
