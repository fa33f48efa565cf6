import type { ComponentChildren, JSX } from 'preact';
import type { JobCommand } from '../../../job/schema/commands';
import type { JobState } from '../../../job/state/state';
import { countedReadings, openSweep } from '../../../job/state/views';
import type { App } from '../../app';
import type { JobConnection } from '../../connection/job-connection';
import { useSignal } from '../../signal';
import { isReader } from './attending';
import { CurveView } from './curve-view';
import { RunningSweep } from './running-sweep';
import { SweepStart } from './sweep-start';

type StationProps = { readonly app: App; readonly job: JobConnection; readonly state: JobState };

/** The main job: the dial, what is waited for, and the curve drawing itself beside it. */
export function SweepStation({ app, job, state }: StationProps): JSX.Element {
  const sweep = openSweep(state);
  const frame = useSignal(job.live);
  const findings = useSignal(job.findings.findings);
  const hasReadings = countedReadings(state).length > 0;
  const send = async (command: JobCommand): Promise<boolean> => (await job.send(command)).kind === 'accepted';
  return (
    <div class={hasReadings || sweep !== undefined ? 'columns' : 'stack'}>
      {sweep === undefined ? (
        <BetweenSweeps
          app={app}
          hasReadings={hasReadings}
          hasCurve={findings?.curve?.curve.kind !== 'refused'}
        >
          <SweepStart state={state} isAgain={hasReadings} hasBox={frame?.link.state === 'live'} send={send} />
        </BetweenSweeps>
      ) : frame === undefined ? (
        <p class="prompt">The sweep waits until the host answers.</p>
      ) : (
        <RunningSweep app={app} job={job} state={state} sweep={sweep} frame={frame} />
      )}
      {hasReadings || sweep !== undefined ? (
        <CurveView
          state={state}
          finding={findings?.curve}
          canRepeat={frame?.link.state === 'live' && (sweep === undefined || isReader(frame, job.screen))}
          send={(command) => void send(command)}
        />
      ) : null}
    </div>
  );
}

/** After a sweep the way on comes first; another sweep is there, but folded. */
function BetweenSweeps(props: {
  readonly app: App;
  readonly hasReadings: boolean;
  readonly hasCurve: boolean;
  readonly children: ComponentChildren;
}): JSX.Element {
  if (!props.hasReadings) return <>{props.children}</>;
  return (
    <div class="stack">
      <p class="prompt">
        {props.hasCurve
          ? 'The sweep is saved. Is the curve smooth enough?'
          : 'These readings make no curve yet: sweep again, or see what is said below.'}
      </p>
      <div>
        <button
          type="button"
          class={props.hasCurve ? 'button button-main' : 'button'}
          onClick={() => props.app.opened.set('sender')}
        >
          On to the sender
        </button>
      </div>
      <details open={!props.hasCurve}>
        <summary>Sweep again or add points</summary>
        {props.children}
      </details>
    </div>
  );
}
