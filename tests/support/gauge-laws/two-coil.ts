/** A moving-iron gauge with a limiting coil from the feed and an operating coil from the sender terminal to ground. */
export type TwoCoilGauge = {
  readonly limitingOhm: number;
  readonly operatingOhm: number;
  /** Turns of the operating coil over turns of the limiting coil. */
  readonly turnsRatio: number;
};

export type TwoCoilState = {
  readonly angleDegrees: number;
  readonly limitingMilliamp: number;
  readonly operatingMilliamp: number;
};

const DEGREES = 180 / Math.PI;

/**
 * Pointer angle, degrees: atan((Nf/Ne) r / (r + Rf)), whatever the supply.
 * Source: node equation of the sender terminal; crossed coils act at right angles.
 */
export const twoCoilAngleDegrees = (gauge: TwoCoilGauge, senderOhm: number): number => {
  const share = senderOhm === Infinity ? 1 : senderOhm / (senderOhm + gauge.operatingOhm);
  return DEGREES * Math.atan(gauge.turnsRatio * share);
};

/** Currents and angle at a supply. Source: limiting coil in series with operating coil in parallel with the sender. */
export const twoCoilState = (gauge: TwoCoilGauge, senderOhm: number, supplyVolt: number): TwoCoilState => {
  const { limitingOhm, operatingOhm } = gauge;
  const share = senderOhm === Infinity ? 1 : senderOhm / (senderOhm + operatingOhm);
  const nodeOhm = share * operatingOhm;
  const limitingMilliamp = (1000 * supplyVolt) / (limitingOhm + nodeOhm);
  return {
    angleDegrees: twoCoilAngleDegrees(gauge, senderOhm),
    limitingMilliamp,
    operatingMilliamp: limitingMilliamp * share,
  };
};
