import type { IoClasses } from './ecma419';

/** Why the box started. `watchdog` is every restart that nobody asked for and that was not a loss of power. */
export type BootCause = 'power' | 'watchdog' | 'brown-out';

/**
 * Time and timers, which ECMA-419 lacks. Whole milliseconds in a 32-bit number, signed or not, that may wrap at any time;
 * a timer may fire 1 ms early.
 */
export type System = {
  readonly now: () => number;
  readonly set: (callback: () => void, delayMs: number) => unknown;
  readonly clear: (timer: unknown) => void;
};

/** One sector of flash that nothing else shares: what is written to it can spoil nothing but itself. */
export type Sector = {
  /** So many bytes from its start, whatever they are; may throw. */
  readonly read: (byteLength: number) => ArrayBuffer | undefined;
  /** Erases it and writes bytes to its start; may throw. A power cut on the way leaves anything. */
  readonly write: (bytes: ArrayBuffer) => void;
};

/** Everything a board passes to the firmware. Pins are those of board/reference-design.ts. */
export type Device = {
  readonly io: IoClasses;
  readonly system: System;
  /** One for each copy of the calibration. */
  readonly calibrationSectors: readonly [Sector, Sector];
  /** Differs from box to box: the chip's own number. */
  readonly boxSerial: number;
  readonly boot: {
    /** Differs at every start, and nothing wears by it: no counter in flash. */
    readonly nonce: number;
    readonly cause: BootCause;
    /** Restarts since power-up. */
    readonly restartCount: number;
  };
  readonly isSimulated: boolean;
};
