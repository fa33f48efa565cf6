import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import { Icon } from './icon';
import { stopByPost, type StopOutcome } from '../connection/http';

const OUTCOME_WORDS: Readonly<Record<StopOutcome, string>> = {
  'box-confirmed-open': 'The box confirmed it: its output is open.',
  'box-silent':
    'The box did not answer. It opens its output by itself within seconds. By hand: ignition off, then pull the fused clip.',
  'no-box': 'No box is connected to the host.',
};
const UNHEARD = 'The host did not hear it. By hand: ignition off, then pull the fused clip.';

/** STOP for a page that follows no job: it opens every box of this host and needs no pairing. */
export function StopEverything(): JSX.Element {
  const [news, setNews] = useState<string | undefined>(undefined);
  const stop = async (): Promise<void> => {
    setNews('STOP sent: waiting for the box.');
    const answer = await stopByPost();
    setNews(answer.kind === 'refused' ? UNHEARD : OUTCOME_WORDS[answer.body.outcome]);
  };
  return (
    <div class="stack">
      <button type="button" class="stop stop-plain" onClick={() => void stop()}>
        <span class="stop-words">
          <Icon of="stop" />
          STOP: open every output
        </span>
        <small>It needs no pairing.</small>
      </button>
      <p role="status">{news}</p>
    </div>
  );
}
