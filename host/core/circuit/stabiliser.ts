import { refuse } from '../refusal';
import type { Refusal } from '../refusal';

/** What a chopping stabiliser gives: a square wave between 0 and the battery. */
export type StabiliserOutput = {
  readonly kind: 'stabiliser';
  /** Part of the time it is closed (dimensionless, 0 to 1). */
  readonly dutyFraction: number;
  /** Heats like this DC voltage: what a thermal gauge feels. */
  readonly effectiveVolt: number;
  /** What a DC voltmeter averages. */
  readonly averageVolt: number;
  /** Heat once its contacts stick closed, as a multiple of the heat it is meant to keep (dimensionless). */
  readonly stuckClosedHeatRatio: number;
};

/**
 * The stabiliser that keeps a heat-equivalent voltage on a battery: duty (Veff / Vb)^2, always closed when the battery is
 * below it. Heats like sqrt(D) Vb, averages D Vb, stuck closed heats (Vb / Veff)^2 times as much.
 * Source: mean square and mean of a square wave; its own heater regulates D Vb^2; P = V^2 / R.
 * Refuses: voltages that are not above 0 V, or too far apart to be one circuit's (STABILISER).
 */
export const stabiliserFor = (
  effectiveVolt: number,
  batteryVolt: number,
): StabiliserOutput | Refusal<'STABILISER'> => {
  const duty = Math.min(1, (effectiveVolt / batteryVolt) ** 2);
  const stuckClosedHeatRatio = (batteryVolt / effectiveVolt) ** 2;
  const isSound = effectiveVolt > 0 && batteryVolt > 0 && Number.isFinite(batteryVolt);
  if (!isSound || !(duty > 0) || !Number.isFinite(stuckClosedHeatRatio))
    return refuse('STABILISER', { effectiveVolt, batteryVolt });
  return {
    kind: 'stabiliser',
    dutyFraction: duty,
    effectiveVolt: Math.sqrt(duty) * batteryVolt,
    averageVolt: duty * batteryVolt,
    stuckClosedHeatRatio,
  };
};
