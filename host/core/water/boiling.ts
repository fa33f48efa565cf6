import { rootSumOfSquares } from '../numeric/sum';
import { isRefused, type Refusal } from '../refusal';
import { pressureGradient, standardPressure } from './atmosphere';
import { saturationLimits, saturationTemperature } from './saturation';

/** What is known of the place: an altitude (the weather is then unknown) or an absolute pressure read there and then. */
export type BoilingQuestion =
  | { readonly altitudeMetre: number; readonly altitudeUncertaintyMetre?: number | undefined }
  | { readonly pressurePascal: number; readonly pressureUncertaintyPascal?: number | undefined };

/** One contribution to the uncertainty of the boiling point, as a standard uncertainty. */
export type BoilingContribution = { readonly name: string; readonly standardUncertaintyKelvin: number };

export type BoilingPoint = {
  readonly kind: 'boiling-point';
  readonly pressurePascal: number;
  readonly temperatureCelsius: number;
  readonly temperatureFahrenheit: number;
  readonly kelvinPerHectopascal: number;
  /** Change with altitude; null when a pressure was given. */
  readonly kelvinPerMetre: number | null;
  readonly contributions: readonly BoilingContribution[];
  readonly standardUncertaintyKelvin: number;
  /** 95 %, coverage factor 2. */
  readonly expandedUncertaintyKelvin: number;
};

/** Weather: sea-level pressure stays within +-20 hPa of the standard most days. Common practice, no source. */
const WEATHER_HALF_WIDTH_PASCAL = 2000;
/** An altitude read off a map. Common practice, no source. */
const USUAL_ALTITUDE_UNCERTAINTY_METRE = 10;
/** A checked aneroid or a phone's barometer. Common practice, no source. */
const USUAL_PRESSURE_UNCERTAINTY_PASCAL = 100;
/** Tap water, a few millimetres of depth, not quite rolling: within +-0.1 K. Common practice, no source. */
const BOIL_HALF_WIDTH_KELVIN = 0.1;
/** Saturation pressure of region 4 is good to 0.025 %. Source: IAPWS R7-97(2012), figure 3 (from memory). */
const FORMULA_PRESSURE_FRACTION = 0.000_25;
const COVERAGE_FACTOR = 2;
const PASCAL_PER_HECTOPASCAL = 100;
const STEP_FRACTION = 1e-5;

/**
 * Boiling point of pure water at an altitude or a pressure, with how it moves and how well it is known.
 * Source: IAPWS R7-97(2012) equation (31) on ISO 2533:1975; uncertainty by GUM 5.1.2, rectangular half-widths by 4.3.7.
 * Refuses: WATER_ALTITUDE, WATER_PRESSURE.
 */
export function boilingPoint(question: BoilingQuestion): BoilingPoint | Refusal {
  const place = placeOf(question);
  if (place.kind === 'refused') return place;
  const found = saturationTemperature(place.pressurePascal);
  if (found.kind === 'refused') return found;
  const kelvinPerPascal = slopeAt(place.pressurePascal);
  const contributions: BoilingContribution[] = [
    ...place.errors.map(({ name, pascal }) => ({
      name,
      standardUncertaintyKelvin: kelvinPerPascal * pascal,
    })),
    {
      name: 'formula',
      standardUncertaintyKelvin: kelvinPerPascal * place.pressurePascal * FORMULA_PRESSURE_FRACTION,
    },
    { name: 'purity and boil', standardUncertaintyKelvin: BOIL_HALF_WIDTH_KELVIN / Math.sqrt(3) },
  ];
  const combined = rootSumOfSquares(contributions.map((each) => each.standardUncertaintyKelvin));
  return {
    kind: 'boiling-point',
    pressurePascal: place.pressurePascal,
    temperatureCelsius: found.temperatureCelsius,
    temperatureFahrenheit: (found.temperatureCelsius * 9) / 5 + 32,
    kelvinPerHectopascal: kelvinPerPascal * PASCAL_PER_HECTOPASCAL,
    kelvinPerMetre: place.pascalPerMetre === null ? null : kelvinPerPascal * place.pascalPerMetre,
    contributions,
    standardUncertaintyKelvin: combined,
    expandedUncertaintyKelvin: COVERAGE_FACTOR * combined,
  };
}

type Place = {
  readonly kind: 'place';
  readonly pressurePascal: number;
  readonly pascalPerMetre: number | null;
  readonly errors: readonly { readonly name: string; readonly pascal: number }[];
};

function placeOf(question: BoilingQuestion): Place | Refusal {
  if ('pressurePascal' in question) {
    const pascal = question.pressureUncertaintyPascal ?? USUAL_PRESSURE_UNCERTAINTY_PASCAL;
    const { pressurePascal } = question;
    return { kind: 'place', pressurePascal, pascalPerMetre: null, errors: [{ name: 'pressure', pascal }] };
  }
  const standard = standardPressure(question.altitudeMetre);
  if (standard.kind === 'refused') return standard;
  const { pressurePascal } = standard;
  const pascalPerMetre = pressureGradient(question.altitudeMetre, pressurePascal);
  const metre = question.altitudeUncertaintyMetre ?? USUAL_ALTITUDE_UNCERTAINTY_METRE;
  return {
    kind: 'place',
    pressurePascal,
    pascalPerMetre,
    errors: [
      { name: 'weather', pascal: WEATHER_HALF_WIDTH_PASCAL / Math.sqrt(3) },
      { name: 'altitude', pascal: Math.abs(pascalPerMetre) * metre },
    ],
  };
}

/** dT/dp, K/Pa, by a difference held inside the saturation line. */
function slopeAt(pressurePascal: number): number {
  const low = Math.max(saturationLimits.lowestPascal, pressurePascal * (1 - STEP_FRACTION));
  const high = Math.min(saturationLimits.highestPascal, pressurePascal * (1 + STEP_FRACTION));
  const [cold, hot] = [saturationTemperature(low), saturationTemperature(high)];
  if (isRefused(cold) || isRefused(hot)) return 0;
  return (hot.temperatureCelsius - cold.temperatureCelsius) / (high - low);
}
