import type { JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { JobState } from '../../job/state';
import type { Desk } from '../model/desk';
import { byHand, isOutputLive, opensByItself, type OutOfReach, type StopNews } from '../model/reach';
import { useSignal } from '../model/signal';

/** Escape stops from anywhere on the page, whatever has the focus. */
function useEscapeStops(desk: Desk, isNeeded: boolean): void {
  useEffect(() => {
    if (!isNeeded) return undefined;
    const onKeyDown = (event: KeyboardEvent): void => {
      if (event.key === 'Escape') desk.stop();
    };
    window.addEventListener('keydown', onKeyDown, true);
    return () => window.removeEventListener('keydown', onKeyDown, true);
  }, [desk, isNeeded]);
}

/** The big stop control: on every view while the output is, or may be, live. */
export function StopBar({ desk, place }: StopBarProps): JSX.Element | null {
  const frame = useSignal(desk.live);
  const reach = useSignal(desk.reach);
  const news = useSignal(desk.stopNews);
  const isNeeded = isOutputLive(frame) || reach !== undefined;
  useEscapeStops(desk, isNeeded);
  if (!isNeeded) return null;
  return (
    <div class="stop-bar">
      {reach === undefined ? null : <Unreachable reach={reach} desk={desk} place={place} />}
      <button type="button" class="stop" onClick={desk.stop}>
        {buttonWords(news, reach)}
        <small>{smallWords(news, frame?.box.deadManMs)}</small>
      </button>
    </div>
  );
}

type StopBarProps = { readonly desk: Desk; readonly place: JobState['place'] };

function buttonWords(news: StopNews | undefined, reach: OutOfReach | undefined): string {
  if (news?.kind === 'sent') return 'STOP sent: waiting for the box';
  if (news?.kind === 'unsent') return 'STOP not sent: no host yet';
  if (reach === undefined) return 'STOP: open the output';
  return reach.lost === 'host' ? 'STOP: as soon as the host answers' : 'STOP: the box does not answer';
}

const smallWords = (news: StopNews | undefined, deadManMs: number | undefined): string =>
  news?.kind === 'sent' && deadManMs !== undefined
    ? `Should it not answer, it opens by itself within ${deadManMs / 1000} s.`
    : 'Escape does the same. The box confirms it here.';

const TICK_MS = 250;

type UnreachableProps = {
  readonly reach: OutOfReach;
  readonly desk: Desk;
  readonly place: JobState['place'];
};

/** Said at once, in the same place as the button that no longer reaches the box. */
function Unreachable({ reach, desk, place }: UnreachableProps): JSX.Element {
  const [nowMs, setNowMs] = useState(() => performance.now());
  useEffect(() => {
    const ticking = setInterval(() => setNowMs(performance.now()), TICK_MS);
    return () => clearInterval(ticking);
  }, []);
  return (
    <div class="unreachable" role="alert">
      <strong>
        {reach.lost === 'host' ? 'This page cannot reach the host.' : 'The host cannot reach the box.'}
      </strong>{' '}
      <strong>{byHand(place)}</strong> {opensByItself(reach, desk.screen, nowMs)}{' '}
      <button type="button" class="button" onClick={() => desk.reach.set(undefined)}>
        I have looked: it is off
      </button>
    </div>
  );
}
