/** A thermal (bimetal) gauge: heater in series with the sender. */
export type ThermalGauge = {
  readonly heaterOhm: number;
  /** Root mean square of what feeds it: the heat-equivalent volts, not what a DC meter shows. */
  readonly effectiveVolt: number;
};

/**
 * Heater power, watt: V_eff^2 Rg / (Rg + r)^2. Deflection is proportional to it.
 * Source: P = I^2 Rg; bimetal curvature proportional to temperature rise (thermostat theory, equal layers).
 */
export const heaterWatt = ({ heaterOhm, effectiveVolt }: ThermalGauge, senderOhm: number): number =>
  senderOhm === Infinity ? 0 : (effectiveVolt / (heaterOhm + senderOhm)) ** 2 * heaterOhm;

/** Heater current, milliampere. Source: Ohm's law. */
export const heaterMilliamp = ({ heaterOhm, effectiveVolt }: ThermalGauge, senderOhm: number): number =>
  (1000 * effectiveVolt) / (heaterOhm + senderOhm);
