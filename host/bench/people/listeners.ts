import type { JobEvent, LiveFrame } from '../../job';

export type JobNews =
  | { readonly kind: 'events'; readonly events: readonly JobEvent[] }
  | { readonly kind: 'live'; readonly frame: LiveFrame };

/** Everyone who follows a job: each new event at once, and frames of the present moment. */
export class Listeners {
  readonly #frame: () => LiveFrame;
  readonly #listeners = new Set<(news: JobNews) => void>();
  #isFrameDue = false;

  constructor(frame: () => LiveFrame) {
    this.#frame = frame;
  }

  subscribe(listener: (news: JobNews) => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  /** A screen that cannot take its news is let go; it must not keep the others, or the bench, from theirs. */
  tell(news: JobNews): void {
    for (const listener of [...this.#listeners]) {
      try {
        listener(news);
      } catch {
        this.#listeners.delete(listener);
      }
    }
  }

  /** Nobody follows. */
  get isEmpty(): boolean {
    return this.#listeners.size === 0;
  }

  /** Many changes of one moment make one frame. */
  frameDue(): void {
    if (this.#isFrameDue) return;
    this.#isFrameDue = true;
    queueMicrotask(() => {
      this.#isFrameDue = false;
      if (this.#listeners.size > 0) this.tell({ kind: 'live', frame: this.#frame() });
    });
  }

  clear(): void {
    this.#listeners.clear();
  }
}
