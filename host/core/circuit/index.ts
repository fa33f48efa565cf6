export { stabiliserFor } from './stabiliser';
export { twoCoilOffsetOhm, twoTerminalOffsetOhm } from './ground-offset';
export { inCircuitSenderOhm } from './in-circuit';
export { copperFactor } from './copper';
export { equivalentOhm } from './conditions';
export type { GaugeFeed, Surroundings } from './conditions';
