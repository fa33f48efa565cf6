import type { JSX } from 'preact';
import type { JobState } from '../job/state/state';
import type { LiveFrame } from '../job/wire/job-messages';
import type { App } from './app';
import type { JobConnection } from './connection/job-connection';
import { useSignal } from './signal';
import { simulatedGaugeFor } from './dial/templates';
import { PortPicker } from './port-picker';
import { Note } from './parts/note';
import { asSentence } from '../words/sentence';

const LINK_WORDS: Readonly<Record<LiveFrame['link']['state'], string>> = {
  closed: 'No box',
  opening: 'Opening the port',
  greeting: 'Greeting the box',
  live: 'Box connected',
  silent: 'The box stopped answering',
  failed: 'No box',
};
const BOX_WORDS: Readonly<Record<LiveFrame['box']['state'], string>> = {
  unknown: 'output: not known',
  safe: 'output open (safe)',
  armed: 'armed, output open',
  driving: 'OUTPUT LIVE',
  tripped: 'tripped, output open',
};

/** A box that is being greeted is not missing. */
const isComing = ({ link }: LiveFrame): boolean => link.state === 'opening' || link.state === 'greeting';

/** One line on the box; with none, what to do about it. */
export function BoxLine(props: {
  readonly app: App;
  readonly job: JobConnection;
  readonly state: JobState;
}): JSX.Element {
  const frame = useSignal(props.job.live);
  const connection = useSignal(props.job.connection);
  const isMuted = useSignal(props.app.tones.isMuted);
  const isLive = frame?.link.state === 'live';
  return (
    <div class="box-line screen-only">
      <div class="row">
        <span>
          <span class={isLive ? 'lamp lamp-on' : 'lamp'} aria-hidden="true" />
          {connection === 'lost' ? 'Host lost: trying again' : LINK_WORDS[frame?.link.state ?? 'closed']}
          {isLive ? `${frame.link.simulated ? ' (simulated)' : ''}, ${BOX_WORDS[frame.box.state]}` : ''}
        </span>
        <OtherScreens frame={frame} job={props.job} />
        <button
          type="button"
          class="button button-plain"
          aria-pressed={isMuted}
          onClick={() => props.app.tones.setMuted(!isMuted)}
        >
          {isMuted ? 'Sound is off' : 'Sound is on'}
        </button>
      </div>
      {isLive || frame === undefined || connection !== 'connected' || isComing(frame) ? null : (
        <NoBox {...props} reason={frame.link.reason} />
      )}
    </div>
  );
}

function OtherScreens(props: {
  readonly frame: LiveFrame | undefined;
  readonly job: JobConnection;
}): JSX.Element | null {
  const others = props.frame?.present.filter((name) => name !== props.job.screen) ?? [];
  return others.length === 0 ? null : <span class="soft">also here: {others.join(', ')}</span>;
}

function NoBox(props: {
  readonly app: App;
  readonly state: JobState;
  readonly reason: string | undefined;
}): JSX.Element {
  const host = useSignal(props.app.host);
  const gauge = simulatedGaugeFor(props.state.printed ?? props.state.gauge, host?.simulatedGauges ?? []);
  return (
    <Note kind="plain" word="No box is connected">
      <p>
        {props.reason === undefined
          ? 'Plug the box in, or work on the simulated bench.'
          : asSentence(props.reason)}{' '}
        Everything that needs no box works all the same.
      </p>
      <div class="row">
        {props.state.simulated ? (
          <button
            type="button"
            class="button"
            disabled={gauge === undefined}
            onClick={() => {
              if (gauge !== undefined) void props.app.useBox({ kind: 'simulated', gauge: gauge.name });
            }}
          >
            Start the simulated bench
          </button>
        ) : (
          <>
            <PortPicker app={props.app} />
            <a class="button button-plain" href="#/new">
              A job of its own on the simulated bench
            </a>
          </>
        )}
      </div>
    </Note>
  );
}
