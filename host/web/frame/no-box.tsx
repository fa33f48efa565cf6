import type { JSX } from 'preact';
import type { JobState } from '../../job/state/state';
import type { LiveFrame } from '../../job/wire/job-messages';
import type { App } from '../app';
import { assignBox } from '../connection/http';
import type { JobConnection } from '../connection/job-connection';
import { simulatedGaugeFor } from '../dial/templates';
import { PortPicker } from './port-picker';
import { useSignal } from '../signal';
import { asSentence } from '../../words/sentence';

/** A box that is being greeted is not missing. */
const isComing = ({ link }: LiveFrame): boolean => link.state === 'opening' || link.state === 'greeting';

type WhichBoxProps = {
  readonly job: JobConnection;
  readonly choices: NonNullable<LiveFrame['link']['choices']>;
  /** The box this job was measured with last. */
  readonly last: number | undefined;
};

/** With several boxes plugged in none is driven before somebody has said which one is on this gauge. */
function WhichBox({ job, choices, last }: WhichBoxProps): JSX.Element {
  const choose = async (boxSerial: number): Promise<void> => {
    const answer = await assignBox(job.jobId, boxSerial);
    job.refusal.set(answer.kind === 'refused' ? answer : undefined);
  };
  const ordered = [...choices].sort(
    (one, other) => Number(other.boxSerial === last) - Number(one.boxSerial === last),
  );
  return (
    <div class="note no-box">
      <p>
        <b>Which box is on this gauge?</b> Follow its lead from the clip to the box; the number is on its
        label.
      </p>
      <div class="row">
        {ordered.map(({ boxSerial, berth }) => (
          <button key={boxSerial} type="button" class="button" onClick={() => void choose(boxSerial)}>
            Box {boxSerial}, plug {berth}
            {boxSerial === last ? ', as last time' : ''}
          </button>
        ))}
      </div>
    </div>
  );
}

type NoBoxProps = { readonly app: App; readonly job: JobConnection; readonly state: JobState };

/** Without a box: why, and what to do about it. */
export function NoBox({ app, job, state }: NoBoxProps): JSX.Element | null {
  const frame = useSignal(job.live);
  const connection = useSignal(job.connection);
  const host = useSignal(app.host);
  const way = useSignal(app.inHand.of(state.jobId));
  if (frame === undefined || frame.link.state === 'live' || connection !== 'connected' || isComing(frame))
    return null;
  // Who works by hand misses none.
  if (way === undefined ? state.sweeps.at(-1)?.hand !== undefined : way !== 'box') return null;
  const { reason, choices } = frame.link;
  if (choices !== undefined && choices.length > 0)
    return <WhichBox job={job} choices={choices} last={state.box?.boxSerial} />;
  const gauge = simulatedGaugeFor(state.printed ?? state.gauge, host?.simulatedGauges ?? []);
  return (
    <div class="note no-box">
      <p>
        <b>No box is connected.</b>{' '}
        {reason === undefined ? 'Plug the box in, or work on the simulated bench.' : asSentence(reason)}{' '}
        Without one, resistors or a potentiometer do: see Sweep.
      </p>
      <div class="row">
        {state.simulated ? (
          <button
            type="button"
            class="button"
            disabled={gauge === undefined}
            onClick={() => {
              if (gauge !== undefined) void app.useBox({ kind: 'simulated', gauge: gauge.name });
            }}
          >
            Start the simulated bench
          </button>
        ) : (
          <>
            <PortPicker app={app} />
            <a class="button button-plain" href="#/new">
              A job of its own on the simulated bench
            </a>
          </>
        )}
      </div>
    </div>
  );
}
