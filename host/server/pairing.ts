import { createHash, randomBytes, randomInt, timingSafeEqual } from 'node:crypto';
import type { Refused } from '../core/result';
import { refuse } from '../refusals';
import type { Right } from '../job/wire/host-messages';

const OPEN_MS = 5 * 60_000;
const PAUSE_MS = 60_000;
/** Wrong codes of all devices together. Ten of a million, then a minute's rest: at best 1 in 20,000 in five minutes. */
const MOST_TRIES = 10;
const CODES = 1_000_000;
const CODE_DIGITS = 6;
const TOKEN_BYTES = 16;

export type OpenPairing = {
  readonly kind: 'open';
  readonly right: Right;
  /** Six digits, to be typed. */
  readonly code: string;
  /** The same in the QR code: too long to be guessed. */
  readonly token: string;
  readonly leftMs: number;
  /** After too many wrong codes nobody is let in for so long. */
  readonly pausedMs: number;
};
export type PairingState = OpenPairing | { readonly kind: 'closed' };
export type PairingKey = { readonly code: string } | { readonly token: string };

type Offer = {
  readonly right: Right;
  readonly untilMs: number;
  readonly code: string;
  readonly token: string;
};

const drawn = (): Pick<Offer, 'code' | 'token'> => ({
  code: String(randomInt(CODES)).padStart(CODE_DIGITS, '0'),
  token: randomBytes(TOKEN_BYTES).toString('base64url'),
});

const digest = (text: string): Buffer => createHash('sha256').update(text).digest();
const isSame = (one: string, other: string): boolean => timingSafeEqual(digest(one), digest(other));

/** The door for new devices: opened by the person at the host, for five minutes, for one device. */
export class Pairing {
  readonly #nowMs: () => number;
  readonly #listeners = new Set<() => void>();
  #offer: Offer | undefined;
  #wrongTries = 0;
  #pausedUntilMs = -Infinity;

  constructor(nowMs: () => number = () => performance.now()) {
    this.#nowMs = nowMs;
  }

  /** A new code each time; an earlier one counts no more. */
  open(right: Right): void {
    this.#offer = { right, untilMs: this.#nowMs() + OPEN_MS, ...drawn() };
    this.#wrongTries = 0;
    this.#tell();
  }

  close(): void {
    this.#offer = undefined;
    this.#tell();
  }

  get state(): PairingState {
    const nowMs = this.#nowMs();
    const offer = this.#offer;
    if (offer === undefined || nowMs >= offer.untilMs) return { kind: 'closed' };
    const { right, code, token, untilMs } = offer;
    const pausedMs = Math.max(0, this.#pausedUntilMs - nowMs);
    return { kind: 'open', right, code, token, leftMs: untilMs - nowMs, pausedMs };
  }

  /** Lets one device in and closes. Refuses PAIRING_CLOSED, PAIRING_PAUSED, CODE_WRONG. */
  enter(key: PairingKey): { readonly kind: 'let-in'; readonly right: Right } | Refused {
    const open = this.state;
    if (open.kind === 'closed') return refuse('PAIRING_CLOSED');
    if (open.pausedMs > 0) {
      const seconds = Math.ceil(open.pausedMs / 1000);
      return refuse('PAIRING_PAUSED', { seconds });
    }
    if ('code' in key ? isSame(key.code, open.code) : isSame(key.token, open.token)) {
      this.close();
      return { kind: 'let-in', right: open.right };
    }
    this.#wrong();
    return refuse('CODE_WRONG');
  }

  /** Called when pairing opens, closes or gets a new code. */
  subscribe(listener: () => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  #wrong(): void {
    this.#wrongTries += 1;
    if (this.#wrongTries < MOST_TRIES || this.#offer === undefined) return;
    this.#wrongTries = 0;
    this.#pausedUntilMs = this.#nowMs() + PAUSE_MS;
    this.#offer = { ...this.#offer, ...drawn() };
    this.#tell();
  }

  #tell(): void {
    for (const listener of [...this.#listeners]) listener();
  }
}
