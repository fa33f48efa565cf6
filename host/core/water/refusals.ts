/** Codes of this folder's refusals and their figures. */
export type WaterRefusals = {
  readonly WATER_ALTITUDE: {
    readonly altitudeMetre: number;
    readonly lowestMetre: number;
    readonly highestMetre: number;
  };
  readonly WATER_TEMPERATURE: { readonly temperatureCelsius: number };
  readonly WATER_PRESSURE: { readonly pressureHectopascal: number };
};
