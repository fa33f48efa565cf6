/**
 * Shunt that straightens a thermistor around a middle temperature: its curve has its inflection there. Ohm.
 * Source: inflection-point method, Rp = R_Tm (B - 2 Tm) / (B + 2 Tm), Tm in kelvin (textbook; worked example
 * 25 kohm, B 4,000 K gives 18.5 kohm).
 */
export const inflectionShuntOhm = (
  middleOhm: number,
  betaKelvin: number,
  middleTemperatureKelvin: number,
): number =>
  (middleOhm * (betaKelvin - 2 * middleTemperatureKelvin)) / (betaKelvin + 2 * middleTemperatureKelvin);

/**
 * Shunt that makes three senders' values at equal steps of temperature equally spaced, ohm. Negative when the three
 * resistances bend the other way.
 * Source: three-point method, Rp = (R2 (R1 + R3) - 2 R1 R3) / (R1 + R3 - 2 R2); derived from equal differences.
 */
export const threePointShuntOhm = (firstOhm: number, secondOhm: number, thirdOhm: number): number =>
  (secondOhm * (firstOhm + thirdOhm) - 2 * firstOhm * thirdOhm) / (firstOhm + thirdOhm - 2 * secondOhm);
