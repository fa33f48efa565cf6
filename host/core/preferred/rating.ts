/** Where a trim part is mounted, with the hottest surrounding air to design for. */
export type MountingPlace = 'bench' | 'dash' | 'engine-bay';

/**
 * Design ambient by place, degrees Celsius. Bench: a warm workshop. Dash 85 and engine bay 125 near the block: common
 * practice, no source (they agree with the usual upper ends of cabin and underbonnet electronics).
 */
export const designAmbientCelsius: Readonly<Record<MountingPlace, number>> = {
  bench: 40,
  dash: 85,
  'engine-bay': 125,
};

/** A resistor family: up to which ambient it carries its full rating, and where it carries none. */
export type ResistorFamily = { readonly fullUpToCelsius: number; readonly zeroAtCelsius: number };

/** Metal film. Source: makers' specifications in the form of IEC 60115-1 (rated dissipation at 70 degC, zero at 155 degC). */
const metalFilm: ResistorFamily = { fullUpToCelsius: 70, zeroAtCelsius: 155 };
/** Wirewound and cement. Typical 70 to 275 degC: common practice, no source. */
const wirewound: ResistorFamily = { fullUpToCelsius: 70, zeroAtCelsius: 275 };

/** Use no more than this share of the derated rating. Common practice, no source. */
const RATING_MARGIN_FRACTION = 0.8;

/**
 * Ratings that parts are sold in, watts, ascending, and the family of each: film to 5 W, wirewound above.
 * Source: metal film 0.125 to 5 W from a maker's specification (tests/vectors/resistor-power-rating.json); 10 to 50 W
 * wirewound are common practice, no source.
 */
export const ratingLadder: readonly { readonly ratingWatt: number; readonly family: ResistorFamily }[] = [
  ...[0.125, 0.25, 0.5, 1, 2, 3, 5].map((ratingWatt) => ({ ratingWatt, family: metalFilm })),
  ...[10, 25, 50].map((ratingWatt) => ({ ratingWatt, family: wirewound })),
];

/** A rating that carries a worst-case power at a place, and how hard it is worked there. */
export type RatingChoice = {
  readonly ratingWatt: number;
  readonly ambientCelsius: number;
  readonly deratedWatt: number;
  /** Worst-case power over the derated rating: at most RATING_MARGIN_FRACTION. */
  readonly loadFraction: number;
};

/**
 * Share of the rating that remains at an ambient: 1 up to the knee, a straight line to 0.
 * Source: form of IEC 60115-1 derating curves; check point 0.35 at 125 degC for 70/155 degC parts.
 */
function deratedFraction(ambientCelsius: number, family: ResistorFamily): number {
  const { fullUpToCelsius, zeroAtCelsius } = family;
  const fraction = (zeroAtCelsius - ambientCelsius) / (zeroAtCelsius - fullUpToCelsius);
  return Math.min(1, Math.max(0, fraction));
}

/**
 * The smallest rating whose derated value, less the margin, carries the power; undefined when none of the ladder does.
 * Source: derating as above; margin common practice.
 */
export function chooseRating(powerWatt: number, ambientCelsius: number): RatingChoice | undefined {
  for (const { ratingWatt, family } of ratingLadder) {
    const deratedWatt = ratingWatt * deratedFraction(ambientCelsius, family);
    if (deratedWatt > 0 && powerWatt <= RATING_MARGIN_FRACTION * deratedWatt) {
      return { ratingWatt, ambientCelsius, deratedWatt, loadFraction: powerWatt / deratedWatt };
    }
  }
  return undefined;
}

/** `chooseRating` at the design ambient of a place. Source: as there. */
export const ratingForPlace = (powerWatt: number, place: MountingPlace): RatingChoice | undefined =>
  chooseRating(powerWatt, designAmbientCelsius[place]);
