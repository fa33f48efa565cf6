/**
 * A three-coil air-core gauge: low coil from the feed to the sender terminal; bucking coil (against the low coil) and
 * high coil (at right angles) in series from the sender terminal to ground, beside the sender. With the sender shorted
 * the low coil alone sets the pointer. Turns are relative.
 */
export type CrossCoilGauge = {
  readonly lowOhm: number;
  readonly buckingOhm: number;
  readonly highOhm: number;
  readonly lowTurns: number;
  readonly buckingTurns: number;
  readonly highTurns: number;
  /** Ballast in the feed, ohm: limits the current, does not turn the pointer. */
  readonly ballastOhm?: number;
};

export type CrossCoilState = {
  readonly angleDegrees: number;
  readonly lowMilliamp: number;
  /** Bucking and high coil carry the same current. */
  readonly highMilliamp: number;
  readonly senderMilliamp: number;
};

const DEGREES = 180 / Math.PI;

/**
 * Currents and pointer angle, degrees, at a supply: theta = atan2(N_h I_h, N_l I_l - N_b I_b).
 * Source: node equation of the sender terminal; the magnet lies along the resultant field; published description of a
 * fuel gauge whose bucking and full coils carry nothing at empty and most at full.
 */
export const crossCoilState = (
  gauge: CrossCoilGauge,
  senderOhm: number,
  supplyVolt: number,
): CrossCoilState => {
  const besideOhm = gauge.buckingOhm + gauge.highOhm;
  const share = senderOhm === Infinity ? 1 : senderOhm / (senderOhm + besideOhm);
  const low = supplyVolt / ((gauge.ballastOhm ?? 0) + gauge.lowOhm + share * besideOhm);
  const high = low * share;
  return {
    angleDegrees:
      DEGREES * Math.atan2(gauge.highTurns * high, gauge.lowTurns * low - gauge.buckingTurns * high),
    lowMilliamp: 1000 * low,
    highMilliamp: 1000 * high,
    senderMilliamp: 1000 * (low - high),
  };
};
