const KELVIN_AT_ZERO_CELSIUS = 273.15;

/** A sender: what it measures to its resistance, ohm. */
export type SenderLaw = (value: number) => number;

/** Thermistor by one point and a material constant. Source: R = R0 exp(B (1/T - 1/T0)), temperatures in kelvin. */
export const betaThermistor =
  (point: { readonly celsius: number; readonly ohm: number }, betaKelvin: number): SenderLaw =>
  (celsius) =>
    point.ohm *
    Math.exp(
      betaKelvin * (1 / (celsius + KELVIN_AT_ZERO_CELSIUS) - 1 / (point.celsius + KELVIN_AT_ZERO_CELSIUS)),
    );

/** A track with a slider: straight from one end to the other. */
export const track =
  (
    from: { readonly value: number; readonly ohm: number },
    to: { readonly value: number; readonly ohm: number },
  ): SenderLaw =>
  (value) =>
    from.ohm + ((to.ohm - from.ohm) * (value - from.value)) / (to.value - from.value);

/** A track wound so that each step of level changes the resistance by the same part. */
export const taperedTrack =
  (
    from: { readonly value: number; readonly ohm: number },
    to: { readonly value: number; readonly ohm: number },
  ): SenderLaw =>
  (value) =>
    from.ohm * (to.ohm / from.ohm) ** ((value - from.value) / (to.value - from.value));
