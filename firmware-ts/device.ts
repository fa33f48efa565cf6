import type { IoClasses } from './ecma419';

/** Why the box started. `watchdog` is every restart that nobody asked for and that was not a loss of power. */
export type BootCause = 'power' | 'watchdog' | 'brown-out';

/** Time and timers, which ECMA-419 lacks. Milliseconds since start, whole numbers; a timer may fire 1 ms early. */
export type System = {
  readonly now: () => number;
  readonly set: (callback: () => void, delayMs: number) => unknown;
  readonly clear: (timer: unknown) => void;
};

/** Non-volatile key-value storage (ECMA-419 27.2): values of at most 60 bytes, so that every runtime takes them. */
export type Storage = {
  readonly read: (key: string) => ArrayBuffer | undefined;
  readonly write: (key: string, value: ArrayBuffer) => void;
};

/** Everything a board passes to the firmware. Pins are those of board/reference-design.ts. */
export type Device = {
  readonly io: IoClasses;
  readonly system: System;
  readonly storage: Storage;
  readonly boxSerial: number;
  readonly boot: {
    /** Differs at every start. */
    readonly nonce: number;
    readonly cause: BootCause;
    /** Restarts since power-up. */
    readonly restartCount: number;
  };
  readonly isSimulated: boolean;
};
