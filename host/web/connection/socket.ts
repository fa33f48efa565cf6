import type { ScreenMessage } from '../../job/wire/job-messages';

export type LineEnd = {
  readonly opened: () => void;
  readonly heard: (text: string) => void;
  readonly lost: () => void;
  /** Nothing was heard since `sinceMs`, longer than the box waits for the host: what was shown then is not of now. */
  readonly quiet: (sinceMs: number) => void;
  /** True while the host, if it can be reached, would be heard within seconds. */
  readonly isTalkative: () => boolean;
};

export type Line = {
  /** False: there is no connection now, and nothing was sent. */
  readonly say: (message: ScreenMessage) => boolean;
  readonly close: () => void;
};

const RETRY_MS = [250, 500, 1000, 2000, 4000] as const;
/** The bench takes a screen for absent after a few seconds of silence. */
const PRESENT_EVERY_MS = 1500;
/**
 * While a box is there a frame comes with every heartbeat of the box, ten a second. After this much silence a host that
 * has stopped has lost its lease (1.5 s), and the box has opened: nobody may go on reading "live" beyond it. The line is
 * kept for a while longer, since a phone's network often pauses, and a lost line opens the output of a host that runs.
 */
const STALE_MS = 1500;
const LOOK_EVERY_MS = 250;
/** A talkative host this quiet cannot be reached, whatever the socket says: a phone out of range gets no goodbye. */
const QUIET_MS = 4000;

/** Keeps a socket to the host open; after each loss, or silence where there should be none, it makes a fresh one. */
export function keepLine(end: LineEnd): Line {
  let socket: WebSocket | undefined;
  let tries = 0;
  let heardAtMs = 0;
  /** A connection that was never answered is as good as none. */
  let isAnswerDue = true;
  let isClosed = false;
  const say = (message: ScreenMessage): boolean => {
    if (socket?.readyState !== WebSocket.OPEN) return false;
    socket.send(JSON.stringify(message));
    return true;
  };
  const lose = (which: WebSocket): void => {
    if (which !== socket) return;
    socket = undefined;
    which.close();
    end.lost();
    if (!isClosed) setTimeout(connect, RETRY_MS[Math.min(tries, RETRY_MS.length - 1)]);
    tries += 1;
  };
  const connect = (): void => {
    if (isClosed) return;
    const fresh = new WebSocket(`${location.origin.replace(/^http/, 'ws')}/live`);
    socket = fresh;
    heardAtMs = performance.now();
    isAnswerDue = true;
    fresh.addEventListener('open', () => {
      end.opened();
    });
    fresh.addEventListener('message', ({ data }) => {
      if (fresh !== socket) return;
      tries = 0;
      heardAtMs = performance.now();
      isAnswerDue = false;
      end.heard(String(data));
    });
    fresh.addEventListener('close', () => lose(fresh));
  };
  const looking = setInterval(() => {
    if (document.visibilityState === 'visible') say({ kind: 'present' });
    const isQuiet = performance.now() - heardAtMs > QUIET_MS;
    if (socket !== undefined && isQuiet && (isAnswerDue || end.isTalkative())) lose(socket);
  }, PRESENT_EVERY_MS);
  const staling = setInterval(() => {
    const isStale = performance.now() - heardAtMs > STALE_MS;
    if (socket !== undefined && isStale && end.isTalkative()) end.quiet(heardAtMs);
  }, LOOK_EVERY_MS);
  connect();
  return {
    say,
    close: () => {
      isClosed = true;
      clearInterval(looking);
      clearInterval(staling);
      socket?.close();
    },
  };
}
