import type { JSX } from 'preact';
import { openSweep } from '../../job/state/views';
import type { LiveFrame } from '../../job/wire/job-messages';
import type { JobConnection } from '../connection/job-connection';
import { useSignal } from '../signal';

const LINK_WORDS: Readonly<Record<LiveFrame['link']['state'], string>> = {
  closed: 'No box',
  opening: 'Opening the port',
  greeting: 'Greeting the box',
  live: 'Box connected',
  silent: 'The box stopped answering',
  failed: 'No box',
};
const BOX_WORDS: Readonly<Record<LiveFrame['box']['state'], string>> = {
  unknown: 'output not known',
  safe: 'output open (safe)',
  armed: 'armed, output open',
  driving: 'output live',
  tripped: 'tripped, output open',
};

/** How it stands with the box: a lamp, and the same in words; on a phone the words are seen when the output is live. */
export function BoxLamp({ job }: { readonly job: JobConnection }): JSX.Element {
  const frame = useSignal(job.live);
  const connection = useSignal(job.connection);
  const state = useSignal(job.state);
  const isLost = connection === 'lost';
  const isByHand = state !== undefined && openSweep(state)?.hand !== undefined;
  const isLive = !isLost && frame?.link.state === 'live';
  const isDriving = isLive && frame.box.state === 'driving';
  const look = isDriving ? 'lamp-live' : isLive ? 'lamp-on' : '';
  return (
    <span class={`lamp ${look}`}>
      <i aria-hidden="true" />
      <span>
        {isLost
          ? 'Host lost: trying again'
          : isByHand && !isLive
            ? 'By hand, no box'
            : LINK_WORDS[frame?.link.state ?? 'closed']}
        {isLive ? `, ${BOX_WORDS[frame.box.state]}` : ''}
      </span>
    </span>
  );
}
