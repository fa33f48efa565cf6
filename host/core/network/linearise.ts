/**
 * Shunt that straightens a thermistor around a middle temperature: its curve has its inflection there. Ohm. Undefined
 * where B is not above twice the middle temperature: such a curve has no inflection.
 * Source: inflection-point method, Rp = R_Tm (B - 2 Tm) / (B + 2 Tm), Tm in kelvin (textbook; worked example
 * 25 kohm, B 4,000 K gives 18.5 kohm).
 */
export const inflectionShuntOhm = (
  middleOhm: number,
  betaKelvin: number,
  middleTemperatureKelvin: number,
): number | undefined =>
  betaKelvin > 2 * middleTemperatureKelvin
    ? (middleOhm * (betaKelvin - 2 * middleTemperatureKelvin)) / (betaKelvin + 2 * middleTemperatureKelvin)
    : undefined;

/**
 * Shunt that makes three senders' values at equal steps of temperature equally spaced, ohm. Undefined where none does:
 * the three are evenly spaced already, or bend the other way.
 * Source: three-point method, Rp = (R2 (R1 + R3) - 2 R1 R3) / (R1 + R3 - 2 R2); derived from equal differences.
 */
export const threePointShuntOhm = (
  firstOhm: number,
  secondOhm: number,
  thirdOhm: number,
): number | undefined => {
  const shuntOhm =
    (secondOhm * (firstOhm + thirdOhm) - 2 * firstOhm * thirdOhm) / (firstOhm + thirdOhm - 2 * secondOhm);
  return shuntOhm > 0 && shuntOhm < Infinity ? shuntOhm : undefined;
};
