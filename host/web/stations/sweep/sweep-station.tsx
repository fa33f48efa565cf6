import type { JSX } from 'preact';
import type { JobCommand } from '../../../job/schema/commands';
import type { JobState } from '../../../job/state/state';
import { countedReadings, openSweep } from '../../../job/state/views';
import type { App } from '../../app';
import type { JobConnection } from '../../connection/job-connection';
import { useSignal } from '../../signal';
import { later } from '../../parts/later';
import { isReader } from './attending';
import { isByHand } from '../../../job/state/hand-step';
import { WaysToSweep } from './ways-to-sweep';

const RunningSweep = later(async () => (await import('./running-sweep')).RunningSweep);
const RunningHand = later(async () => (await import('./running-hand')).RunningHand);
const CurveView = later(async () => (await import('./curve-view')).CurveView);
const SweepResult = later(async () => (await import('./sweep-result')).SweepResult);

type StationProps = { readonly app: App; readonly job: JobConnection; readonly state: JobState };

/** The main job: the dial, what is waited for, and the curve drawing itself beside it. */
export function SweepStation({ app, job, state }: StationProps): JSX.Element {
  const sweep = openSweep(state);
  const frame = useSignal(job.live);
  const findings = useSignal(job.findings.findings);
  const hasReadings = countedReadings(state).length > 0;
  const send = async (command: JobCommand): Promise<boolean> => (await job.send(command)).kind === 'accepted';
  const canRepeat = frame?.link.state === 'live' && (sweep === undefined || isReader(frame, job.screen));
  // A simulated box is none for a vehicle that is there.
  const hasBox = frame?.link.state === 'live' && frame.link.simulated === state.simulated;
  const start = (
    <WaysToSweep app={app} job={job} state={state} isAgain={hasReadings} hasBox={hasBox} send={send} />
  );
  const answer = {
    state,
    finding: findings?.curve,
    canRepeat,
    send: (command: JobCommand) => void send(command),
  };
  if (sweep === undefined)
    return hasReadings ? (
      <SweepResult {...answer} jobId={job.jobId} goOn={() => app.opened.set('sender')} again={start} />
    ) : (
      start
    );
  if (sweep.status.kind === 'running' && frame !== undefined && isByHand(sweep))
    return <RunningHand app={app} job={job} state={state} sweep={sweep} frame={frame} />;
  if (sweep.status.kind === 'running' && frame !== undefined)
    return <RunningSweep app={app} job={job} state={state} sweep={sweep} frame={frame} />;
  return (
    <div class="columns">
      {frame === undefined ? (
        <p class="prompt">The sweep waits until the host answers.</p>
      ) : (
        <RunningSweep app={app} job={job} state={state} sweep={sweep} frame={frame} />
      )}
      <CurveView {...answer} />
    </div>
  );
}
