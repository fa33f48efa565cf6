import type { JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { JobState } from '../../job/state/state';
import type { JobConnection } from '../connection/job-connection';
import {
  byHand,
  isOutputLive,
  opensByItself,
  type OutOfReach,
  type StopNews,
} from '../connection/lost-contact';
import { useSignal } from '../signal';
import { Icon } from './icon';

/** Escape stops from anywhere on the page, whatever has the focus. */
function useEscapeStops(job: JobConnection, isNeeded: boolean): void {
  useEffect(() => {
    if (!isNeeded) return undefined;
    const onKeyDown = (event: KeyboardEvent): void => {
      if (event.key === 'Escape') job.stop();
    };
    window.addEventListener('keydown', onKeyDown, true);
    return () => window.removeEventListener('keydown', onKeyDown, true);
  }, [job, isNeeded]);
}

/** The big stop control: on every view while the output is, or may be, live. */
export function StopBar({ job, place }: StopBarProps): JSX.Element | null {
  const frame = useSignal(job.live);
  const lostContact = useSignal(job.lostContact);
  const news = useSignal(job.stopNews);
  const isNeeded = isOutputLive(frame) || lostContact !== undefined;
  useEscapeStops(job, isNeeded);
  if (!isNeeded) return null;
  return (
    <div class="stop-bar">
      {lostContact === undefined ? null : <Unreachable lostContact={lostContact} job={job} place={place} />}
      <button type="button" class="stop" onClick={job.stop}>
        <span class="stop-words">
          <Icon of="stop" />
          {buttonWords(news, lostContact)}
        </span>
        <small>{smallWords(news, frame?.box.deadManMs)}</small>
      </button>
    </div>
  );
}

type StopBarProps = { readonly job: JobConnection; readonly place: JobState['place'] };

function buttonWords(news: StopNews | undefined, lostContact: OutOfReach | undefined): string {
  if (news?.kind === 'sent') return 'STOP sent: waiting for the box';
  if (news?.kind === 'unsent') return 'STOP not sent: no host yet';
  if (lostContact === undefined) return 'STOP: open the output';
  return lostContact.lost === 'host' ? 'STOP: as soon as the host answers' : 'STOP: the box does not answer';
}

const smallWords = (news: StopNews | undefined, deadManMs: number | undefined): string =>
  news?.kind === 'sent' && deadManMs !== undefined
    ? `Should it not answer, it opens by itself within ${deadManMs / 1000} s.`
    : 'Escape does the same. The box confirms it here.';

const TICK_MS = 250;

type UnreachableProps = {
  readonly lostContact: OutOfReach;
  readonly job: JobConnection;
  readonly place: JobState['place'];
};

/** Said at once, in the same place as the button that no longer reaches the box. */
function Unreachable({ lostContact, job, place }: UnreachableProps): JSX.Element {
  const [nowMs, setNowMs] = useState(() => performance.now());
  useEffect(() => {
    const ticking = setInterval(() => setNowMs(performance.now()), TICK_MS);
    return () => clearInterval(ticking);
  }, []);
  return (
    <div class="unreachable" role="alert">
      <strong>
        {lostContact.lost === 'host' ? 'This page cannot reach the host.' : 'The host cannot reach the box.'}
      </strong>{' '}
      <strong>{byHand(place)}</strong> {opensByItself(lostContact, job.screen, nowMs)}{' '}
      <button type="button" class="button" onClick={() => job.lostContact.set(undefined)}>
        I have looked: it is off
      </button>
    </div>
  );
}
