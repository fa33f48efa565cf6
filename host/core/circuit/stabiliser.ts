/** Duty of a chopping stabiliser (dimensionless, 0 to 1) and what its output amounts to. */
export type StabiliserOutput = {
  readonly dutyFraction: number;
  /** Heats like this DC voltage: what a thermal gauge feels. */
  readonly effectiveVolt: number;
  /** What a DC voltmeter averages. */
  readonly averageVolt: number;
};

/**
 * Heat-equivalent and average of a square wave between 0 and the battery: sqrt(D) Vb and D Vb.
 * Source: mean square and mean of a square wave.
 */
export const stabiliserOutput = (dutyFraction: number, batteryVolt: number): StabiliserOutput => {
  const duty = Math.min(1, Math.max(0, dutyFraction));
  return {
    dutyFraction: duty,
    effectiveVolt: Math.sqrt(duty) * batteryVolt,
    averageVolt: duty * batteryVolt,
  };
};

/**
 * Duty at which a stabiliser keeps a heat-equivalent voltage: (Veff / Vb)^2, 1 when the battery is below it.
 * Source: its own heater regulates D Vb^2.
 */
export const stabiliserFor = (effectiveVolt: number, batteryVolt: number): StabiliserOutput =>
  stabiliserOutput((effectiveVolt / batteryVolt) ** 2, batteryVolt);

/** Heat-equivalent from what a meter shows: sqrt(Vdc^2 + Vac^2), Vac without its DC part. Source: mean square. */
export const effectiveVoltFromMeter = (directVolt: number, alternatingVolt: number): number =>
  Math.hypot(directVolt, alternatingVolt);

/** Heat of a stabiliser stuck closed, as a multiple of normal: (Vb / Veff)^2. Source: P = V^2 / R. */
export const stuckClosedHeatRatio = (batteryVolt: number, effectiveVolt: number): number =>
  (batteryVolt / effectiveVolt) ** 2;
