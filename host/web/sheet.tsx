import type { JSX } from 'preact';
import { useMemo, useRef } from 'preact/hooks';
import type { Station } from '../job/stations';
import { headlines } from '../words/headline';
import type { JobState } from '../job/state/state';
import { openSweep } from '../job/state/views';
import { faceOf } from './dial/dial-geometry';
import { SimulatedDash } from './simulated-dash';
import type { App } from './app';
import type { JobConnection } from './connection/job-connection';
import { curveFacts } from './stations/sweep/curve-facts';
import { useSignal } from './signal';
import { stationAtWork, stationShown } from './stations/station-order';
import { UnitChoice } from './home/unit-choice';
import { BoxLine } from './box-line';
import { Note } from './parts/note';
import { Boundary, OldPage } from './old-page';
import { Refused } from './parts/refused';
import { StopBar } from './parts/stop-bar';
import { Notices } from './parts/notices';
import { MECHANISM_WORDS } from './parts/words';
import { StationFrame } from './stations/station-frame';
import { StationBody } from './stations/station-body';
import { printed } from '../words/notation';

/** One job is one sheet that fills in from top to bottom. */
export function Sheet({ app, job }: { readonly app: App; readonly job: JobConnection }): JSX.Element {
  const state = useSignal(job.state);
  const connection = useSignal(job.connection);
  const refusal = useSignal(job.refusal);
  if (state === undefined) {
    return (
      <main class="card">
        <OldPage app={app} />
        <div class="card-head">
          <h1>{connection === 'lost' ? 'The host does not answer' : 'Fetching the job sheet'}</h1>
          <p>
            {refusal?.message ?? (connection === 'lost' ? 'This page tries again by itself.' : 'One moment.')}{' '}
            <a href="#/">All job sheets</a>
          </p>
        </div>
      </main>
    );
  }
  return (
    <div class={`bench ${state.simulated ? 'bench-with-dash' : ''}`}>
      <Boundary>
        {state.simulated ? <Dash job={job} state={state} /> : null}
        <main class="card">
          <CardHead app={app} job={job} state={state} />
          <Standing app={app} job={job} />
          <BoxLine app={app} job={job} state={state} />
          <Notices job={job} state={state} />
          <Stations app={app} job={job} state={state} />
        </main>
      </Boundary>
      <div class="foot screen-only">
        <Refused job={job} />
        <StopBar job={job} place={state.place} />
      </div>
    </div>
  );
}

/** What this page is to its host: of another build, or a screen that may only watch. */
function Standing({ app, job }: { readonly app: App; readonly job: JobConnection }): JSX.Element {
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
    </div>
  );
}

type SheetParts = { readonly app: App; readonly job: JobConnection; readonly state: JobState };

function CardHead({ app, job, state }: SheetParts): JSX.Element {
  return (
    <header class="card-head">
      <div class="card-top">
        <a class="screen-only" href="#/">
          All job sheets
        </a>
        {state.simulated ? <span class="stamp">SIMULATED</span> : null}
      </div>
      <h1>{state.title}</h1>
      <p class="card-facts">
        <span>{state.vehicle}</span>
        <span>{state.place === 'car' ? 'in the car' : 'on the bench'}</span>
        <span>mechanism: {MECHANISM_WORDS[state.gauge.mechanism]}</span>
        {state.complaint === undefined ? null : <span>{`\u201c${state.complaint}\u201d`}</span>}
        <span class="figure">card {state.jobId}</span>
        <UnitChoice job={job} state={state} entries={[app.entry, app.proofEntry]} />
      </p>
    </header>
  );
}

function Dash({ job, state }: { readonly job: JobConnection; readonly state: JobState }): JSX.Element {
  // The dash of a vehicle shows what is printed on it, whatever unit the sheet is read in.
  const gauge = state.printed ?? state.gauge;
  const face = useMemo(() => faceOf(gauge), [gauge]);
  return <SimulatedDash job={job} face={face} />;
}

function Stations({
  app,
  job,
  state,
}: {
  readonly app: App;
  readonly job: JobConnection;
  readonly state: JobState;
}): JSX.Element {
  const opened = useSignal(app.opened);
  const lines = headlines(state, printed, curveFacts(useSignal(job.findings.findings), state));
  const atWork = stationAtWork(lines, state);
  const shown = useRef(atWork);
  shown.current = stationShown(shown.current, atWork, openSweep(state) !== undefined);
  const open = opened ?? shown.current;
  const toggle = (station: Station): void => app.opened.set(open === station ? 'none' : station);
  return (
    <>
      {lines.map((headline) => (
        <StationFrame
          key={headline.station}
          headline={headline}
          isOpen={open === headline.station}
          onToggle={() => toggle(headline.station)}
        >
          <StationBody station={headline.station} app={app} job={job} state={state} />
        </StationFrame>
      ))}
    </>
  );
}
