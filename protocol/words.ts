import { nameOf } from './names';

/** State of a channel, as the wire says it. */
export const states = { safe: 0, armed: 1, driving: 2, tripped: 3 } as const;
export type StateName = keyof typeof states;

/** What kind of gauge circuit the box stands in: it selects the box's own limits. */
export const jobKinds = { thermal: 0, magnetic: 1, electronic: 2, unknown: 3, fuel: 4 } as const;
export type JobKind = keyof typeof jobKinds;

/** What a box can do, as bits of `capabilities`. A host ignores bits it does not know. */
export const capabilities = {
  simulated: 0x01,
  ohmmeter: 0x02,
  selfCalibration: 0x04,
  ripple: 0x08,
  groundOffset: 0x10,
  limiter: 0x20,
  hardwareDeadMan: 0x40,
} as const;
export type Capability = keyof typeof capabilities;

/** What the meter knows, as bits of `meterFlags`: a number whose bit is clear must not be used. */
export const meterFlags = {
  resistanceKnown: 0x01,
  outputMade: 0x02,
  settled: 0x04,
  pulsing: 0x08,
  openCircuitKnown: 0x10,
  groundOffsetKnown: 0x20,
  heatKnown: 0x40,
  limiterInPath: 0x80,
} as const;
export type MeterFlag = keyof typeof meterFlags;

/** Which part of the resistance chain a row of the element table describes. */
export const elementKinds = { element: 0, limiter: 1, residual: 2 } as const;

/** State of a wire number, or `undefined` for a number this protocol does not know. */
export const stateName = (value: number): StateName | undefined => nameOf(states, value);

/** Job kind of a wire number, or `undefined` for a number this protocol does not know. */
export const jobKindName = (value: number): JobKind | undefined => nameOf(jobKinds, value);

/** True when the capability bit is set. */
export const hasCapability = (bits: number, capability: Capability): boolean =>
  (bits & capabilities[capability]) !== 0;

/** True when the meter flag bit is set. */
export const hasMeterFlag = (bits: number, flag: MeterFlag): boolean => (bits & meterFlags[flag]) !== 0;
