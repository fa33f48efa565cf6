export {
  betaFromPair,
  HIGHEST_PLAUSIBLE_BETA_KELVIN,
  isPlausibleBeta,
  LOWEST_PLAUSIBLE_BETA_KELVIN,
  pairwiseBetas,
} from './beta-gate';
export type { PairwiseBeta } from './beta-gate';
export { ohmRange, senderOhmAt, senderValueAt } from './evaluate';
export type { SenderOhm, SenderValue } from './evaluate';
export { fitSender } from './fit';
export type { SenderOptions } from './fit';
export type { SenderLaw, SenderLawName } from './law';
export { senderPointFault } from './points';
export type { SenderPoint, UncertaintyBasis } from './points';
export type { PointFault } from './refusals';
export type { SenderReason } from './remarks';
export { senderResponse } from './response';
export type { SenderResponseOptions } from './response';
export { dissipationFromTwoCurrents, selfHeatedOhm } from './self-heating';
export type { CurrentReading, Dissipation, SelfHeated, TwoCurrents } from './self-heating';
export { toleranceBand } from './tolerance';
export type { ToleranceBand } from './tolerance';
export type { FittedSender, FittedSenderPoint, SenderCoefficient } from './sender';
