export * from './schema/adjustment';
export { ohmmeter, supplyAt, type Ohmmeter, type SupplyAt } from './schema/instrument';
export * from './schema/particulars';
export * from './schema/photograph';
export * from './schema/gauge';
export { scaleOf } from './schema/scale';
export * from './schema/sweep';
export * from './schema/safety';
export * from './schema/trim';
export * from './schema/events';
export * from './schema/proof-shapes';
export * from './schema/commands';
export {
  clusterEvent,
  type ClusterBody,
  type ClusterEvent,
  type NeighbourSaid,
} from './schema/cluster-events';
export * from './state/state';
export * from './state/effective';
export * from './state/undo';
export * from './state/fold';
export * from './schema/cluster-commands';
export * from './wire/cluster-messages';
export { foldCluster, type ClusterGauge, type ClusterState } from './state/cluster-state';
export * from './state/cluster-sheet';
export * from './state/views';
export * from './state/curve-options';
export * from './state/shown-unit';
export * from './state/command-unit';
export * from './state/shown-command';
export * from './stations';
export * from './state/wanted-ohms';
export * from './schema/explain';
export * from './schema/plain-issue';
export * from './wire/job-messages';
export { frameInUnit } from './wire/frame-in-unit';
export { leg, stopEnd, type Given, type Leg, type StopEnd } from './schema/values';
