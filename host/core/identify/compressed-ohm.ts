/** Where resistance stops being judged by ratio: below it, leads and contacts decide. */
const RATIO_FROM_OHM = 1;

/** ln R for all but the smallest resistances, where it goes over into ohms so that 0 ohm has a place. Derived here. */
export const compressedOhm = (resistanceOhm: number): number =>
  Math.asinh(resistanceOhm / (2 * RATIO_FROM_OHM));
/** Back to ohm. Source: inverse of `compressedOhm`. */
export const ohmFromCompressed = (compressed: number): number => 2 * RATIO_FROM_OHM * Math.sinh(compressed);
/** d(compressed)/dR: 1/R for all but the smallest. Source: derivative of asinh. */
export const compressionSlope = (resistanceOhm: number): number =>
  1 / Math.hypot(resistanceOhm, 2 * RATIO_FROM_OHM);
