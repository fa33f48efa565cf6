export type Pace<Message> = {
  /** Milliseconds between two messages; 0 = each at once. */
  readonly everyMs: () => number;
  readonly say: (message: Message) => void;
};

/** Says the newest of many messages, no more often than allowed; the last one is always said. */
export function paced<Message>({ everyMs, say }: Pace<Message>): {
  readonly say: (message: () => Message) => void;
  readonly end: () => void;
} {
  let saidAtMs = -Infinity;
  let due: (() => Message) | undefined;
  let timer: ReturnType<typeof setTimeout> | undefined;
  const now = (): void => {
    clearTimeout(timer);
    timer = undefined;
    const message = due;
    due = undefined;
    if (message === undefined) return;
    saidAtMs = performance.now();
    say(message());
  };
  return {
    say: (message) => {
      due = message;
      const restMs = saidAtMs + everyMs() - performance.now();
      if (restMs <= 0) now();
      else timer ??= setTimeout(now, restMs);
    },
    end: () => {
      clearTimeout(timer);
      due = undefined;
    },
  };
}
