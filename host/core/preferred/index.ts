export { isSeriesName, seriesDigits, seriesNames, seriesTolerancePercent } from './series';
export type { SeriesName } from './series';
export { preferredValues } from './values';
export { chooseRating, designAmbientCelsius, ratingForPlace, ratingLadder } from './rating';
export type { MountingPlace, RatingChoice, ResistorFamily } from './rating';
