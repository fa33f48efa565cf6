import type { LinkClock } from '../link';

/** So often while the output is live; every entry looks by itself besides. */
const LOOK_EVERY_MS = 2_000;

type JournalLookParts = {
  readonly clock: LinkClock;
  /** False once the output is open and nothing is driven. */
  readonly isLive: () => boolean;
  /** Looks whether the journal can still be kept, and opens the output where it cannot. Never rejects. */
  readonly look: () => Promise<unknown>;
};

/**
 * Between two entries of a sweep minutes pass: a journal that was moved away meanwhile is noticed by looking. The next
 * look is due once the last one was answered, so a slow disk has one look at work and never a second.
 */
export class JournalLook {
  readonly #parts: JournalLookParts;
  #cancel: (() => void) | undefined;

  constructor(parts: JournalLookParts) {
    this.#parts = parts;
  }

  /** The output is about to be live. */
  begin(): void {
    if (this.#cancel === undefined) this.#later();
  }

  end(): void {
    this.#cancel?.();
    this.#cancel = undefined;
  }

  #later(): void {
    this.#cancel = this.#parts.clock.after(LOOK_EVERY_MS, () => void this.#look());
  }

  async #look(): Promise<void> {
    const { isLive, look } = this.#parts;
    if (isLive()) await look();
    if (this.#cancel === undefined) return;
    if (isLive()) this.#later();
    else this.#cancel = undefined;
  }
}
