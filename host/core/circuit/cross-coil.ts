/**
 * A three-coil air-core gauge: low coil from feed to ground, bucking coil (against the low coil) from feed to the sender
 * terminal, high coil (at right angles) from the sender terminal to ground. Turns are relative.
 */
export type CrossCoilGauge = {
  readonly lowOhm: number;
  readonly buckingOhm: number;
  readonly highOhm: number;
  readonly lowTurns: number;
  readonly buckingTurns: number;
  readonly highTurns: number;
  /** Ballast in the common feed, ohm. */
  readonly ballastOhm?: number;
};

export type CrossCoilState = {
  readonly angleDegrees: number;
  readonly lowMilliamp: number;
  readonly buckingMilliamp: number;
  readonly highMilliamp: number;
  readonly senderMilliamp: number;
};

const DEGREES = 180 / Math.PI;

/**
 * Currents and pointer angle, degrees, at a supply: theta = atan2(N_h I_h, N_l I_l - N_b I_b).
 * Source: node equations of feed and sender terminal; the magnet lies along the resultant field.
 */
export const crossCoilState = (
  gauge: CrossCoilGauge,
  senderOhm: number,
  supplyVolt: number,
): CrossCoilState => {
  const toGroundSiemens = 1 / gauge.highOhm + (senderOhm === Infinity ? 0 : 1 / senderOhm);
  const branchOhm = gauge.buckingOhm + (senderOhm === 0 ? 0 : 1 / toGroundSiemens);
  const feedSiemens = 1 / gauge.lowOhm + 1 / branchOhm;
  const feedVolt = supplyVolt / (1 + (gauge.ballastOhm ?? 0) * feedSiemens);
  const bucking = feedVolt / branchOhm;
  const nodeVolt = feedVolt - bucking * gauge.buckingOhm;
  const low = feedVolt / gauge.lowOhm;
  const high = nodeVolt / gauge.highOhm;
  return {
    angleDegrees:
      DEGREES * Math.atan2(gauge.highTurns * high, gauge.lowTurns * low - gauge.buckingTurns * bucking),
    lowMilliamp: 1000 * low,
    buckingMilliamp: 1000 * bucking,
    highMilliamp: 1000 * high,
    senderMilliamp: 1000 * (bucking - high),
  };
};
