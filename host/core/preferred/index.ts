export { isSeriesName, seriesDigits, seriesNames, seriesTolerancePercent } from './series';
export type { SeriesName } from './series';
export { preferredValues } from './values';
export {
  chooseRating,
  deratedFraction,
  designAmbientCelsius,
  metalFilm,
  RATING_MARGIN_FRACTION,
  ratingForPlace,
  ratingLadder,
} from './rating';
export type { MountingPlace, RatingChoice, ResistorFamily } from './rating';
