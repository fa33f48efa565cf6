export { standardPressure } from './atmosphere';
export type { StandardPressure } from './atmosphere';
export { boilingPoint } from './boiling';
export type { BoilingContribution, BoilingPoint, BoilingQuestion } from './boiling';
export { saturationLimits, saturationPressure, saturationTemperature } from './saturation';
export type { SaturationPressure, SaturationTemperature } from './saturation';
