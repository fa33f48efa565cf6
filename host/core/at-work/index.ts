export { factorFound, factorFromStill, factorOfKind, isIgnorance } from './dissipation-factor';
export type { DissipationFactor, FactorBasis } from './dissipation-factor';
export { hotCurveOf } from './hot-curve';
export type { HotCurve } from './hot-curve';
export { leadSourceFrom, throughLadder } from './source';
export type { LeadReading, LeadSource } from './source';
export { anchorAt, driveOf, ohmAtRise, riseAt, runAwayAt } from './working-point';
export type { Anchor, Drive, Place, RunAway } from './working-point';
