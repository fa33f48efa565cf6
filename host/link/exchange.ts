import { ANSWER_MAX_MS, encodeFrame, FieldError, refusalName, refusalSentence } from '../../protocol';
import type { AnyAnswer, AnyRequest, Fields, RefusedMessage, RequestName } from '../../protocol';
import { linkProblem } from './problems';
import type { LinkClock, LinkProblem, LinkResult } from './types';

export type ExchangeTiming = {
  /** Wait for an answer before the same frame is sent again. */
  readonly requestMs: number;
  readonly tries: number;
};

/** What the exchange needs of the link around it. */
export type ExchangeDoor = {
  readonly title: string;
  readonly clock: LinkClock;
  readonly timing: ExchangeTiming;
  readonly firstSequence: number;
  readonly send: (request: AnyRequest, bytes: Uint8Array) => void;
  /** No answer to the last try. */
  readonly silent: () => void;
};

type Outcome =
  | { readonly kind: 'answer'; readonly answer: AnyAnswer }
  | { readonly kind: 'refused'; readonly refusal: RefusedMessage }
  | ({ readonly kind: 'link-failed' } & LinkProblem);

type Waiting = {
  readonly request: AnyRequest;
  readonly bytes: Uint8Array;
  readonly triesAllowed: number;
  readonly settle: (outcome: Outcome) => void;
};

type Outstanding = Waiting & { triesMade: number; cancelTimer: () => void };

/** These take as long as the meter averages, so a repeat before that only adds traffic. */
const SLOW_REQUESTS: readonly RequestName[] = ['arm', 'ohmmeter', 'calibrateElement', 'calibrateStore'];

/** A timer later than this many of its times was kept waiting by the program itself. */
const LATE_FACTOR = 1.5;

/**
 * One request on the wire at a time; a retry carries the same sequence number, so the box acts once and answers again.
 * `open` does not wait its turn: it goes out at once and sets aside what was under way.
 */
export class Exchange {
  readonly #door: ExchangeDoor;
  readonly #queue: Waiting[] = [];
  #outstanding: Outstanding | undefined;
  #sequence: number;
  #ended: LinkProblem | undefined;

  constructor(door: ExchangeDoor) {
    this.#door = door;
    this.#sequence = door.firstSequence & 0xff;
  }

  get isIdle(): boolean {
    return this.#outstanding === undefined && this.#queue.length === 0;
  }

  async ask<N extends RequestName>(name: N, fields: Fields<N>, tries?: number): Promise<LinkResult<N>> {
    const outcome = await this.#submit(name, fields, tries ?? this.#triesFor(name));
    switch (outcome.kind) {
      case 'link-failed':
        return outcome;
      case 'refused':
        return refusalResult(outcome.refusal);
      case 'answer':
        return isAnswerTo(name, outcome.answer)
          ? { kind: 'answer', fields: outcome.answer.fields }
          : this.#failed('LINK_BAD_ANSWER', `${outcome.answer.name} to ${name}`);
    }
  }

  /** Takes an answer or refusal from the wire; false when nobody waits for it (late, twice, or not ours). */
  answered(message: AnyAnswer | RefusedMessage): boolean {
    const current = this.#outstanding;
    if (current === undefined || current.request.sequence !== message.sequence) return false;
    if (message.kind === 'answer' && message.name !== current.request.name) return false;
    current.cancelTimer();
    this.#outstanding = undefined;
    current.settle(
      message.kind === 'answer' ? { kind: 'answer', answer: message } : { kind: 'refused', refusal: message },
    );
    this.#sendNext();
    return true;
  }

  /** Fails everything that waits, now and from now on. */
  end(problem: LinkProblem): void {
    this.#ended = problem;
    const waiting = [
      ...(this.#outstanding === undefined ? [] : [this.#outstanding]),
      ...this.#queue.splice(0),
    ];
    this.#outstanding?.cancelTimer();
    this.#outstanding = undefined;
    for (const one of waiting) one.settle({ kind: 'link-failed', ...problem });
  }

  #failed(code: LinkProblem['code'], detail?: string): { readonly kind: 'link-failed' } & LinkProblem {
    const slots = detail === undefined ? { title: this.#door.title } : { title: this.#door.title, detail };
    return { kind: 'link-failed', ...linkProblem(code, slots) };
  }

  #triesFor(name: RequestName): number {
    const { requestMs, tries } = this.#door.timing;
    return SLOW_REQUESTS.includes(name) ? Math.max(tries, Math.ceil(ANSWER_MAX_MS / requestMs) + 1) : tries;
  }

  #submit<N extends RequestName>(name: N, fields: Fields<N>, triesAllowed: number): Promise<Outcome> {
    if (this.#ended !== undefined) return Promise.resolve({ kind: 'link-failed', ...this.#ended });
    const message = { kind: 'request', name, sequence: this.#sequence, fields } as const;
    if (!isRequest(message)) return Promise.resolve(this.#failed('LINK_BAD_REQUEST', name));
    const bytes = bytesOf(message);
    if (bytes instanceof FieldError) return Promise.resolve(this.#failed('LINK_BAD_REQUEST', bytes.message));
    this.#sequence = (this.#sequence + 1) & 0xff;
    return new Promise((settle) => {
      const waiting = { request: message, bytes, triesAllowed, settle };
      if (name === 'open') this.#overtake(waiting);
      else this.#queue.push(waiting);
      this.#sendNext();
    });
  }

  #overtake(stop: Waiting): void {
    this.#queue.unshift(stop);
    const current = this.#outstanding;
    if (current === undefined || current.request.name === 'open') return;
    current.cancelTimer();
    this.#outstanding = undefined;
    current.settle(this.#failed('LINK_OVERTAKEN'));
  }

  #sendNext(): void {
    if (this.#outstanding !== undefined) return;
    const next = this.#queue.shift();
    if (next === undefined) return;
    this.#outstanding = { ...next, triesMade: 0, cancelTimer: () => undefined };
    this.#try(this.#outstanding);
  }

  #try(current: Outstanding): void {
    if (current.triesMade >= current.triesAllowed) {
      this.#door.silent();
      return;
    }
    current.triesMade += 1;
    const { clock, timing } = this.#door;
    const sentAtMs = clock.nowMs();
    current.cancelTimer = clock.after(timing.requestMs, () => {
      // A timer that comes late tells that this program stood still, not that the box is silent: its answer may lie unread.
      // The frame is sent again all the same, since it renews the lease.
      if (clock.nowMs() - sentAtMs > LATE_FACTOR * timing.requestMs) current.triesMade -= 1;
      this.#try(current);
    });
    this.#door.send(current.request, current.bytes);
  }
}

function bytesOf(request: AnyRequest): Uint8Array | FieldError {
  try {
    return encodeFrame(request);
  } catch (error) {
    if (error instanceof FieldError) return error;
    throw error;
  }
}

/** A name and its own fields always make a request; the compiler cannot follow that through the type parameter. */
const isRequest = (message: {
  readonly kind: 'request';
  readonly name: RequestName;
}): message is AnyRequest => message.kind === 'request';

const isAnswerTo = <N extends RequestName>(
  name: N,
  answer: AnyAnswer,
): answer is Extract<AnyAnswer, { readonly name: N }> => answer.name === name;

function refusalResult({ fields }: RefusedMessage): {
  readonly kind: 'refused';
  readonly code: string;
  readonly message: string;
} {
  const code = refusalName(fields.refusalCode) ?? `REFUSAL_${fields.refusalCode}`;
  return { kind: 'refused', code, message: refusalSentence(fields.refusalCode, fields.detail) };
}
