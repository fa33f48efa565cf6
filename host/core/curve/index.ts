export { needleAt, ohmAt } from './evaluate';
export type { OhmAnswer } from './evaluate';
export { fitCurve } from './fit-curve';
export { marksOf, readingAt } from './marks';
export { gaugeResponse } from './response';
export { lawFormula } from './shape-law';
export { lawNames, mechanisms } from './types';
export type {
  BudgetLine,
  CurveOptions,
  CurvePoint,
  CurveRefusalCode,
  CurveWarning,
  GaugeCurve,
  GaugeReading,
  Ground,
  Hysteresis,
  LawCandidate,
  LawName,
  Leg,
  MarkResult,
  Mechanism,
  NamedParameter,
  PlateauReport,
  Prediction,
  Repeatability,
  ResistanceUncertainty,
  StopReport,
  StopSide,
} from './types';
