/** A moving-coil gauge in series with its sender. */
export type MovingCoilGauge = { readonly coilOhm: number; readonly fullScaleMilliamp: number };

/**
 * Deflection as a fraction of full scale (above 1 the pointer is against its stop): V / (Rg + r) over full scale.
 * Source: linear torque balance N B A I = K theta.
 */
export const movingCoilFraction = (gauge: MovingCoilGauge, senderOhm: number, supplyVolt: number): number =>
  (1000 * supplyVolt) / (gauge.coilOhm + senderOhm) / gauge.fullScaleMilliamp;
