import type { JSX } from 'preact';
import { useMemo, useRef } from 'preact/hooks';
import { headlines } from '../words/headline';
import { shortFindings } from '../words/short-finding';
import type { JobState } from '../job/state/state';
import { openSweep } from '../job/state/views';
import type { Headline, Station } from '../job/stations';
import { faceOf } from './dial/dial-geometry';
import { SimulatedDash } from './dial/simulated-dash';
import type { App } from './app';
import type { JobConnection } from './connection/job-connection';
import { AboutJob, placeWords } from './frame/about-job';
import { BoxLamp } from './frame/box-lamp';
import { NoBox } from './frame/no-box';
import { Panel } from './frame/panel';
import { jobPlace } from './frame/station-place';
import { StationScale } from './frame/station-scale';
import { StepScale } from './frame/step-scale';
import { curveFacts } from '../words/curve-facts';
import { useSignal } from './signal';
import { stationAtWork, stationShown } from './stations/station-order';
import { Note } from './parts/note';
import { Boundary, OldPage } from './frame/old-page';
import { Refused } from './parts/refused';
import { StopBar } from './parts/stop-bar';
import { Notices } from './parts/notices';
import { StationFrame } from './stations/station-frame';
import { StationBody } from './stations/station-body';
import { printed } from '../words/notation';

type SheetParts = { readonly app: App; readonly job: JobConnection; readonly state: JobState };

/** One job: the panel that says how far it is, and the one station that is shown. */
export function Sheet({ app, job }: { readonly app: App; readonly job: JobConnection }): JSX.Element {
  const state = useSignal(job.state);
  if (state === undefined) return <Fetching app={app} job={job} />;
  return <Opened app={app} job={job} state={state} />;
}

function Fetching({ app, job }: Omit<SheetParts, 'state'>): JSX.Element {
  const connection = useSignal(job.connection);
  const refusal = useSignal(job.refusal);
  return (
    <>
      <Panel title={connection === 'lost' ? 'The host does not answer' : 'Fetching the job sheet'} />
      <main class="wrap paper stack">
        <OldPage app={app} />
        <p>
          {refusal?.message ?? (connection === 'lost' ? 'This page tries again by itself.' : 'One moment.')}{' '}
          <a href="#/">All job sheets</a>
        </p>
      </main>
    </>
  );
}

/** Where the needle is read off the drawn dash; the others need their whole width, and a running sweep has its own. */
const LOOKED_AT: readonly Station[] = ['check', 'proof'];

function Opened(parts: SheetParts): JSX.Element {
  const { app, job, state } = parts;
  const facts = curveFacts(useSignal(job.findings.findings), state);
  const lines = headlines(state, printed, facts);
  const open = useShownStation(app, lines, state);
  const frame = useSignal(job.live);
  const sweep = openSweep(state);
  const isRunning = open === 'sweep' && sweep?.status.kind === 'running' && frame !== undefined;
  const hasDash = state.simulated && LOOKED_AT.includes(open);
  return (
    <div class={`bench ${isRunning ? 'bench-run' : ''} ${hasDash ? 'bench-with-dash' : ''}`}>
      <Boundary>
        <Panel
          title={state.title}
          whose={`${state.vehicle} \u00b7 ${placeWords(state)} \u00b7 card ${state.jobId}`}
          isSimulated={state.simulated}
          lamp={<BoxLamp job={job} />}
        >
          {isRunning ? (
            <StepScale frame={frame} />
          ) : (
            <StationScale
              headlines={lines}
              findings={shortFindings(state, printed, facts)}
              shown={open}
              place={jobPlace(lines, state)}
              onOpen={(station) => app.opened.set(station)}
            />
          )}
        </Panel>
        {hasDash ? <Dash job={job} state={state} /> : null}
        <main class={isRunning ? 'paper' : 'wrap paper'}>
          <Standing {...parts} />
          <StationFrame station={open}>
            <StationBody station={open} app={app} job={job} state={state} />
          </StationFrame>
          {isRunning ? null : <AboutJob {...parts} />}
        </main>
      </Boundary>
      <div class="foot screen-only">
        <Refused job={job} />
        <StopBar job={job} place={state.place} />
      </div>
    </div>
  );
}

/** The station somebody opened by hand; else the one the work stands at, as long as that takes nothing from the hands. */
function useShownStation(app: App, lines: readonly Headline[], state: JobState): Station {
  const opened = useSignal(app.opened);
  const atWork = stationAtWork(lines, state);
  const shown = useRef(atWork);
  shown.current = stationShown(shown.current, atWork, state);
  return opened ?? shown.current;
}

/** What comes before any work: a page of another build, a screen that may only watch, no box, a trip. */
function Standing({ app, job, state }: SheetParts): JSX.Element {
  const right = useSignal(job.right);
  return (
    <div class="notices screen-only">
      <OldPage app={app} />
      {right === 'watch' ? (
        <Note kind="plain" word="This device watches">
          <p>
            It sees everything and may stop. At the host, under &ldquo;Devices&rdquo;, it can be let operate.
          </p>
        </Note>
      ) : null}
      <ItsCluster clusterId={app.inHand.clusterOf(job.jobId)} />
      <NoBox app={app} job={job} state={state} />
      <Notices job={job} state={state} />
    </div>
  );
}

/** Back to where this gauge is one of several. */
const ItsCluster = ({ clusterId }: { readonly clusterId: string | undefined }): JSX.Element | null =>
  clusterId === undefined ? null : (
    <p>
      <a href={`#/cluster/${encodeURIComponent(clusterId)}`}>Back to its cluster</a>
    </p>
  );

function Dash({ job, state }: Omit<SheetParts, 'app'>): JSX.Element {
  // The dash of a vehicle shows what is printed on it, whatever unit the sheet is read in.
  const gauge = state.printed ?? state.gauge;
  const face = useMemo(() => faceOf(gauge), [gauge]);
  return <SimulatedDash job={job} face={face} />;
}
