import type { RawData, WebSocket } from 'ws';
import { TokenBuckets, type Rate } from './token-bucket';

/** Messages of one socket in order, decoded once. Listeners are attached before anything else is done. */
export type Inbox = {
  /** The next text, or undefined once the socket has closed. */
  next(): Promise<string | undefined>;
};

/** A screen sends a few messages a second; more than this waiting means it is not a screen. */
const MOST_WAITING = 200;

/** Whoever floods is not waited for. */
const GOODBYE_MS = 500;

const CLOSE_TOO_MANY = 4008;
const CLOSE_NOT_TEXT = 1003;

/** A socket that sends faster than `rate` is closed; a page makes a fresh one and catches up. */
export function inboxOf(socket: WebSocket, rate: Rate): Inbox {
  const waiting: string[] = [];
  const bucket = new TokenBuckets(rate);
  let wake: (() => void) | undefined;
  let isOver = false;
  const stir = (): void => {
    wake?.();
    wake = undefined;
  };
  socket.on('message', (data: RawData, isBinary: boolean) => {
    if (isOver) return undefined;
    if (isBinary) return socket.close(CLOSE_NOT_TEXT, 'text only');
    if (waiting.length >= MOST_WAITING || !bucket.take('')) {
      isOver = true;
      waiting.length = 0;
      socket.close(CLOSE_TOO_MANY, 'too many messages at once');
      setTimeout(() => socket.terminate(), GOODBYE_MS).unref();
      return stir();
    }
    waiting.push(textOf(data));
    return stir();
  });
  socket.on('close', () => {
    isOver = true;
    stir();
  });
  // An oversize or broken frame is reported here; the library closes the socket with its own code.
  socket.on('error', () => undefined);
  return {
    async next() {
      while (waiting.length === 0 && !isOver) await new Promise<void>((resolve) => (wake = resolve));
      return isOver && waiting.length === 0 ? undefined : waiting.shift();
    },
  };
}

function textOf(data: RawData): string {
  if (Array.isArray(data)) return Buffer.concat(data).toString('utf8');
  return data instanceof ArrayBuffer ? Buffer.from(data).toString('utf8') : data.toString('utf8');
}
