import { useEffect, useState } from 'preact/hooks';

/** A named value of the page's one model: components read it, the model's functions set it. */
export type Signal<T> = {
  readonly get: () => T;
  readonly set: (value: T) => void;
  readonly subscribe: (listener: () => void) => () => void;
};

/** Creates a signal; listeners run at once and in order of subscription, only when the value changed identity. */
export function createSignal<T>(initial: T): Signal<T> {
  let current = initial;
  const listeners = new Set<() => void>();
  return {
    get: () => current,
    set: (value) => {
      if (Object.is(value, current)) return;
      current = value;
      for (const listener of [...listeners]) listener();
    },
    subscribe: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}

/** Draws the component again when the signal changes. */
export function useSignal<T>(signal: Signal<T>): T {
  const [value, setValue] = useState(() => signal.get());
  useEffect(() => {
    setValue(() => signal.get());
    return signal.subscribe(() => setValue(() => signal.get()));
  }, [signal]);
  return value;
}
