import { type Refusal, refuse } from '../refusal';

/** Constants of the standard atmosphere up to 11 km. Source: ISO 2533:1975. */
const SEA_LEVEL_PASCAL = 101_325;
const SEA_LEVEL_KELVIN = 288.15;
const LAPSE_KELVIN_PER_METRE = 0.0065;
const GRAVITY = 9.80665;
const GAS_CONSTANT_AIR = 287.05287;
const EXPONENT = GRAVITY / (LAPSE_KELVIN_PER_METRE * GAS_CONSTANT_AIR);

/** The layer in which one formula holds; below -2,000 m there is no dry land and no table. Source: ISO 2533:1975. */
const altitudeLimits = { lowestMetre: -2000, highestMetre: 11_000 } as const;

export type StandardPressure = { readonly kind: 'standard-pressure'; readonly pressurePascal: number };

/**
 * Mean air pressure at a geopotential altitude (2,000 m on the map is 1,999.4 m here, which no needle shows).
 * Source: ISO 2533:1975, 2.6. Refuses: outside -2,000 to 11,000 m (WATER_ALTITUDE).
 */
export function standardPressure(altitudeMetre: number): StandardPressure | Refusal<'WATER_ALTITUDE'> {
  const { lowestMetre, highestMetre } = altitudeLimits;
  if (!(altitudeMetre >= lowestMetre && altitudeMetre <= highestMetre)) {
    return refuse('WATER_ALTITUDE', { altitudeMetre, lowestMetre, highestMetre });
  }
  const pressurePascal =
    SEA_LEVEL_PASCAL * (1 - (LAPSE_KELVIN_PER_METRE * altitudeMetre) / SEA_LEVEL_KELVIN) ** EXPONENT;
  return { kind: 'standard-pressure', pressurePascal };
}

/** Fall of the standard pressure with altitude, Pa/m (negative). Source: hydrostatic balance in the ISO 2533 layer. */
export function pressureGradient(altitudeMetre: number, pressurePascal: number): number {
  const kelvin = SEA_LEVEL_KELVIN - LAPSE_KELVIN_PER_METRE * altitudeMetre;
  return (-pressurePascal * GRAVITY) / (GAS_CONSTANT_AIR * kelvin);
}
