import {
  crossCoilDegrees,
  dividerVolt,
  heaterWatt,
  seriesAmp,
  stabiliserDuty,
  twoCoilDegrees,
  twoCoilSource,
} from './laws';
import type { CrossCoil, Source, TwoCoil } from './laws';

/** Volts against battery negative: supply at the gauge, ground of the gauge. */
export type Feed = { readonly supplyVolt: number; readonly groundVolt: number };

/** What flows out of the sender terminal and what voltage it has then. */
export type Draw = { readonly amp: number; readonly volt: number };

/**
 * One kind of gauge. `drive` is what deflects it, in units of its own (watt, degrees, ampere, volt); heat builds up, so
 * the pointer follows the lagged drive.
 */
export type Mechanism = {
  readonly kind: 'thermal' | 'two-coil' | 'cross-coil' | 'moving-coil' | 'electronic';
  readonly source: (feed: Feed, atMs: number) => Source;
  /** When a pulsing feed next goes on or off, after a moment; Infinity where nothing pulses. */
  readonly nextSwitchMs: (feed: Feed, atMs: number) => number;
  readonly drive: (feed: Feed, draw: Draw) => number;
  /** Drive with a sender of a resistance, everything nominal and steady. */
  readonly steadyDrive: (senderOhm: number) => number;
  readonly lagMs: number;
  /** A quicker lag before it: heat goes through the winding's insulation before it bends the strip. 0 where there is none. */
  readonly innerLagMs: number;
  /** Half width of friction or hysteresis, part of the scale. */
  readonly frictionFraction: number;
};

const NOMINAL_VOLT = 13.5;

export type Stabiliser = { readonly effectiveVolt: number; readonly periodMs: number };

/** Stabiliser output now: full battery in pulses, or steady when it has no period. */
function stabiliserVolt({ effectiveVolt, periodMs }: Stabiliser, batteryVolt: number, atMs: number): number {
  if (batteryVolt <= effectiveVolt || periodMs === 0) return Math.min(batteryVolt, effectiveVolt);
  const phase = (atMs % periodMs) / periodMs;
  return phase < stabiliserDuty(effectiveVolt, batteryVolt) ? batteryVolt : 0;
}

/** When the stabiliser's contact next opens or closes, strictly after a moment; Infinity for one that does not pulse. */
function stabiliserSwitchMs(
  { effectiveVolt, periodMs }: Stabiliser,
  batteryVolt: number,
  atMs: number,
): number {
  if (batteryVolt <= effectiveVolt || periodMs === 0) return Infinity;
  const beganMs = Math.floor(atMs / periodMs) * periodMs;
  const opensMs = beganMs + stabiliserDuty(effectiveVolt, batteryVolt) * periodMs;
  return opensMs > atMs ? opensMs : beganMs + periodMs;
}

const never = (): number => Infinity;

/** Heater on a bimetal in series with the sender, fed by a stabiliser. */
export const thermal = (heaterOhm: number, stabiliser: Stabiliser): Mechanism => ({
  kind: 'thermal',
  source: ({ supplyVolt }, atMs) => ({
    openVolt: stabiliserVolt(stabiliser, supplyVolt, atMs),
    sourceOhm: heaterOhm,
  }),
  nextSwitchMs: ({ supplyVolt }, atMs) => stabiliserSwitchMs(stabiliser, supplyVolt, atMs),
  drive: (_feed, { amp }) => heaterWatt(amp, heaterOhm),
  steadyDrive: (senderOhm) =>
    heaterWatt(seriesAmp(stabiliser.effectiveVolt, heaterOhm, senderOhm), heaterOhm),
  // Rest in half a minute, and a beat of the stabiliser that can just be seen (trade practice; figures invented).
  lagMs: 6_000,
  innerLagMs: 2_000,
  frictionFraction: 0.002,
});

const nodeVolts = (feed: Feed, node: number) => ({ node, supply: feed.supplyVolt, ground: feed.groundVolt });

/** Node voltage of a source loaded by the sender, ground of the sender at battery negative. */
const loadedVolt = ({ openVolt, sourceOhm }: Source, senderOhm: number): number =>
  dividerVolt(openVolt, sourceOhm, senderOhm);

const nominal: Feed = { supplyVolt: NOMINAL_VOLT, groundVolt: 0 };

/** Iron armature between two crossed coils. */
export const twoCoil = (coils: TwoCoil): Mechanism => ({
  kind: 'two-coil',
  source: (feed) => twoCoilSource(coils, feed.supplyVolt, feed.groundVolt),
  nextSwitchMs: never,
  drive: (feed, { volt }) => twoCoilDegrees(coils, nodeVolts(feed, volt)),
  steadyDrive: (senderOhm) => {
    const node = loadedVolt(twoCoilSource(coils, NOMINAL_VOLT, 0), senderOhm);
    return twoCoilDegrees(coils, nodeVolts(nominal, node));
  },
  lagMs: 250,
  innerLagMs: 0,
  frictionFraction: 0.01,
});

/** Magnet in the field of three coils, damped by fluid. */
export const crossCoil = (coils: CrossCoil): Mechanism => ({
  kind: 'cross-coil',
  source: (feed) => twoCoilSource(coils, feed.supplyVolt, feed.groundVolt),
  nextSwitchMs: never,
  drive: (feed, { volt }) => crossCoilDegrees(coils, nodeVolts(feed, volt)),
  steadyDrive: (senderOhm) => {
    const node = loadedVolt(twoCoilSource(coils, NOMINAL_VOLT, 0), senderOhm);
    return crossCoilDegrees(coils, nodeVolts(nominal, node));
  },
  lagMs: 1_500,
  innerLagMs: 0,
  frictionFraction: 0.006,
});

const regulated = ({ supplyVolt }: Feed, volt: number, sourceOhm: number): Source => ({
  openVolt: Math.min(supplyVolt, volt),
  sourceOhm,
});

/** Coil in a magnet's gap, fed by a regulator. */
export const movingCoil = (coilOhm: number, regulatedVolt: number): Mechanism => ({
  kind: 'moving-coil',
  source: (feed) => regulated(feed, regulatedVolt, coilOhm),
  nextSwitchMs: never,
  drive: (_feed, { amp }) => amp,
  steadyDrive: (senderOhm) => seriesAmp(regulatedVolt, coilOhm, senderOhm),
  lagMs: 400,
  innerLagMs: 0,
  frictionFraction: 0.004,
});

/** Pull-up and converter; `shape` is the table in its program, sender ohms to part of the scale. */
export const electronic = (
  pullUp: { readonly ohm: number; readonly volt: number },
  shape: (senderOhm: number) => number,
): Mechanism => ({
  kind: 'electronic',
  source: (feed) => regulated(feed, pullUp.volt, pullUp.ohm),
  nextSwitchMs: never,
  drive: (_feed, { volt }) =>
    shape(pullUp.volt - volt <= 0 ? Infinity : (pullUp.ohm * volt) / (pullUp.volt - volt)),
  steadyDrive: (senderOhm) => shape(senderOhm),
  lagMs: 3_000,
  innerLagMs: 0,
  frictionFraction: 0.0005,
});
