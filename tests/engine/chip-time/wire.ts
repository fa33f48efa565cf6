// What passes between the world in Node and the firmware in XS: before a callback everything it may read, after it
// everything it did. One layout, used at both ends.

/** What the chip calls. */
export const calls = { nothing: 0, boot: 1, timer: 2, readable: 3, writable: 4, spoil: 5 } as const;

/** Where the inputs of a callback stand; big-endian, received bytes follow. */
export const at = {
  call: 0,
  readyLine: 1,
  tripLine: 2,
  /** For each converter: has a result, and three bytes of it. */
  converters: [3, 7],
  rail: 11,
  now: 13,
  count: 21,
  /** 0: works, 1: one chip does not acknowledge, 2: the bus hangs until its time-out. */
  bus: [23, 24],
  bytes: 25,
} as const;

/** In the place of the rail: reading it throws. */
export const RAIL_FAILS = 0xffff;

export const busStates = { works: 0, noAcknowledge: 1, hangs: 2 } as const;

/** What a callback did, in its order: after the count of received bytes it took, each deed as 32 bits and what follows. */
export const deeds = {
  /** bits */
  bank: 1,
  /** pin, value */
  pin: 2,
  /** chip, bytes */
  busWrite: 3,
  /** delay, ms */
  timer: 4,
  /** bytes */
  serialWrite: 5,
  /** chip: its result was taken */
  busRead: 7,
  /** which, bytes */
  sector: 8,
  /** time-out, ms */
  busTimedOut: 9,
} as const;
