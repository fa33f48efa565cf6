export { needleAt, ohmAt } from './report/evaluate';
export type { OhmAnswer } from './report/evaluate';
export { fitCurve } from './fit-curve';
export { marksOf, readingAt } from './report/marks';
export { gaugeResponse } from './report/gauge-response';
export { placeCovariance } from './report/covariance';
export { lawFormula } from './laws/shape-law';
export { lawNames, mechanisms } from './types';
export type {
  BudgetLine,
  CurveOptions,
  CurvePoint,
  CurveRefusalCode,
  GaugeCurve,
  GaugeReading,
  Ground,
  Hysteresis,
  LawCandidate,
  LawName,
  Leg,
  LegsFinding,
  MarkResult,
  Mechanism,
  NamedParameter,
  PlateauReport,
  Prediction,
  Repeatability,
  ResistanceUncertainty,
  StopReport,
  StopSide,
  SupplyFinding,
} from './types';
