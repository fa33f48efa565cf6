/** R = b1 exp( b2 / (t + b3) ), t in degrees Celsius. */
export type Exponential = { readonly b1Ohm: number; readonly b2Celsius: number; readonly b3Celsius: number };

/** Resistance at a temperature. Source: the model of NIST StRD dataset MGH10 (Meyer 1970). NaN at or beyond the pole. */
export function exponentialOhm(
  { b1Ohm, b2Celsius, b3Celsius }: Exponential,
  temperatureCelsius: number,
): number {
  const shifted = temperatureCelsius + b3Celsius;
  return shifted === 0 ? Number.NaN : b1Ohm * Math.exp(b2Celsius / shifted);
}

/** Temperature at a resistance. Source: the same model solved for t. */
export const exponentialCelsius = (law: Exponential, resistanceOhm: number): number =>
  law.b2Celsius / Math.log(resistanceOhm / law.b1Ohm) - law.b3Celsius;

/** Derivatives of R with respect to b1, b2, b3. Source: differentiation of the model. */
export function exponentialGradient(law: Exponential, temperatureCelsius: number): readonly number[] {
  const shifted = temperatureCelsius + law.b3Celsius;
  const resistanceOhm = exponentialOhm(law, temperatureCelsius);
  return [
    resistanceOhm / law.b1Ohm,
    resistanceOhm / shifted,
    (-resistanceOhm * law.b2Celsius) / (shifted * shifted),
  ];
}
