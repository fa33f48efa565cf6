/**
 * How each mechanism answers a sender, by the circuit alone: the yardstick for fits, networks and surroundings, held to
 * published figures by tests/core/circuit/laws.test.ts. Infinity ohm is an open sender. No program uses them: a gauge is
 * measured, and the simulated ones have laws of their own.
 */
export { heaterMilliamp, heaterWatt } from './thermal';
export { twoCoilAngleDegrees, twoCoilState } from './two-coil';
export { crossCoilState } from './cross-coil';
export { movingCoilFraction } from './moving-coil';
export { dividerVolt } from './divider';
