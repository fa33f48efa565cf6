/**
 * How the five kinds of gauge answer the resistance of their sender. Volts, ohms, amperes, degrees.
 * Sources: the derivations are in the doc comments; each is held to published figures in tests/firmware/simulated.
 */

/** What a gauge puts on its sender terminal: a voltage behind a resistance (Thevenin). */
export type Source = { readonly openVolt: number; readonly sourceOhm: number };

/** Current of a series circuit: heater, moving coil or pull-up with the sender. Source: Ohm. */
export const seriesAmp = (volt: number, gaugeOhm: number, senderOhm: number): number =>
  volt / (gaugeOhm + senderOhm);

/** Voltage of a divider across the sender. Source: Ohm. */
export const dividerVolt = (volt: number, pullUpOhm: number, senderOhm: number): number =>
  Number.isFinite(senderOhm) ? (volt * senderOhm) / (pullUpOhm + senderOhm) : volt;

/** Heat in a thermal gauge's winding, watt: what bends the bimetal. Source: P = I^2 R. */
export const heaterWatt = (amp: number, heaterOhm: number): number => amp * amp * heaterOhm;

/** Part of the time a stabiliser is on, so that it heats like a steady voltage. Source: mean square, D Vb^2 = Veff^2. */
export const stabiliserDuty = (effectiveVolt: number, batteryVolt: number): number =>
  Math.min(1, (effectiveVolt / batteryVolt) ** 2);

export type TwoCoil = { readonly limitingOhm: number; readonly operatingOhm: number };

/** Node between the two coils as the sender sees it. Source: superposition; ground of the gauge may be lifted. */
export function twoCoilSource(
  { limitingOhm, operatingOhm }: TwoCoil,
  supplyVolt: number,
  groundVolt: number,
): Source {
  const sum = limitingOhm + operatingOhm;
  const openVolt = (supplyVolt * operatingOhm + groundVolt * limitingOhm) / sum;
  return { openVolt, sourceOhm: (limitingOhm * operatingOhm) / sum };
}

const DEGREES = 180 / Math.PI;

/** Angle of the armature between two crossed equal coils. Source: tan(angle) = field ratio = current ratio. */
export function twoCoilDegrees(
  coils: TwoCoil,
  volts: { node: number; supply: number; ground: number },
): number {
  const limitingAmp = (volts.supply - volts.node) / coils.limitingOhm;
  const operatingAmp = (volts.node - volts.ground) / coils.operatingOhm;
  return Math.atan2(operatingAmp, limitingAmp) * DEGREES;
}

export type CrossCoil = TwoCoil & {
  /** Turns of the high coil and of the bucking coil, the low coil counting 1. */
  readonly highTurns: number;
  readonly buckingTurns: number;
};

/**
 * Angle of the magnet in a three-coil gauge: the bucking coil carries the high coil's current against the low coil.
 * Source: the magnet lies along the sum of the fields.
 */
export function crossCoilDegrees(
  coils: CrossCoil,
  volts: { node: number; supply: number; ground: number },
): number {
  const lowAmp = (volts.supply - volts.node) / coils.limitingOhm;
  const highAmp = (volts.node - volts.ground) / coils.operatingOhm;
  return Math.atan2(coils.highTurns * highAmp, lowAmp - coils.buckingTurns * highAmp) * DEGREES;
}
