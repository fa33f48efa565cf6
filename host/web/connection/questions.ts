import type { Refusal } from '../../job/wire/job-messages';

export type Outcome = { readonly kind: 'accepted'; readonly upToN: number } | Refusal;

export const lost: Refusal = {
  kind: 'refused',
  code: 'HOST_LOST',
  message: 'The connection to the host was lost before it answered; look at the sheet before you try again.',
};

/** What the box measures by itself may take most of this. */
const ANSWER_MS = 60_000;
const slow: Refusal = {
  kind: 'refused',
  code: 'HOST_SLOW',
  message: 'The host has not answered for a minute; look at the sheet before you try again.',
};

/** What one screen has asked its host and has no answer to yet. */
export class Questions {
  readonly #pending = new Map<number, (outcome: Outcome) => void>();
  #lastId = 0;

  /** A number for a question that nobody waits for. */
  nextId(): number {
    this.#lastId += 1;
    return this.#lastId;
  }

  isPending(id: number): boolean {
    return this.#pending.has(id);
  }

  /** Settles when the host has answered, or when it cannot any more. `say`: false where nothing was sent. */
  ask(say: (id: number) => boolean): Promise<Outcome> {
    const id = this.nextId();
    return new Promise((resolve) => {
      const late = setTimeout(() => this.settle(id, slow), ANSWER_MS);
      this.#pending.set(id, (outcome) => {
        clearTimeout(late);
        resolve(outcome);
      });
      if (!say(id)) this.settle(id, lost);
    });
  }

  settle(id: number, outcome: Outcome): void {
    const resolve = this.#pending.get(id);
    this.#pending.delete(id);
    resolve?.(outcome);
  }

  settleAll(outcome: Outcome): void {
    for (const id of [...this.#pending.keys()]) this.settle(id, outcome);
  }
}
