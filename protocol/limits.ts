/** A protocol limit: refused outside `min`..`max`, never clamped; `initial` is what a host uses when nobody chose. */
export type Limit = {
  readonly initial: number;
  readonly min: number;
  readonly max: number;
  readonly why: string;
};

/** Every limit both ends must agree on. A box may be stricter and says so in its greeting, never laxer. */
export const limits = {
  deadManMs: {
    initial: 1500,
    min: 300,
    max: 2000,
    why: 'a lost host must be noticed before a thermal gauge has moved; below 300 ms a busy PC trips it by itself',
  },
  resistanceMilliohm: {
    initial: 1_000_000,
    min: 0,
    max: 20_000_000,
    why: 'cold thermistor senders reach a few kilohm; nothing in this trade needs more than 20 kilohm',
  },
  currentMilliamp: {
    initial: 300,
    min: 1,
    max: 1000,
    why: 'the hottest published thermal circuit carries 225 mA; 1 A is beyond every element rating',
  },
  powerMilliwatt: {
    initial: 1000,
    min: 1,
    max: 10_000,
    why: 'a box of this size cannot lose more than 10 W without burning the hand that holds it',
  },
  supplyMillivolt: {
    initial: 16_000,
    min: 1000,
    max: 30_000,
    why: 'a 12 V system charges below 15 V; 30 V covers 24 V vehicles and is below the surge clamp',
  },
  floorTimeMs: {
    initial: 5000,
    min: 100,
    max: 60_000,
    why: 'a thermal gauge on a near-short is damaged in seconds',
  },
  ohmmeterMicroamp: {
    initial: 1000,
    min: 50,
    max: 20_000,
    why: 'below 50 uA noise rules, above 20 mA the sender heats itself',
  },
  calendarDay: {
    initial: 20_454,
    min: 18_262,
    max: 65_535,
    why: 'days since 1970-01-01: a clock that says before 2020 is a clock that was never set',
  },
} as const satisfies Record<string, Limit>;

/** Longest time a box may take to answer a request, ms: a self-calibration step with averaging is the slowest. */
export const ANSWER_MAX_MS = 900;

/** Longest payload in bytes. Sets every buffer of both ends, and fits the 128-byte transmit queue of the first board. */
export const MAX_FIELD_BYTES = 60;
