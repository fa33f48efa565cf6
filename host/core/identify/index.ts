export { identifyGauge, identifySender } from './identify';
export type { GaugeObservation, NamedGauge, NamedSender } from './identify';
export type { NextPlace } from './next-place';
export type { Identification, RankedCurve } from './rank';
