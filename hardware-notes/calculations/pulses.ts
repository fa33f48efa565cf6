import {
  elements,
  hardwareTrip,
  limits,
  path,
  type LadderElement,
} from '../../firmware-ts/board/reference-design';

/** A thermal gauge behind a stabiliser that passes the battery in pulses. */
export type PulsedGauge = {
  readonly heaterOhm: number;
  /** The steady voltage that heats alike. */
  readonly effectiveVolt: number;
  readonly batteryVolt: number;
  readonly periodMs: number;
};

export type Pulse = {
  readonly peakAmp: number;
  readonly rootMeanSquareAmp: number;
  readonly duty: number;
  readonly onMs: number;
  readonly periodMs: number;
};

/** What flows with a resistance at the sender terminal. Source: Ohm; equal heat, duty = (effective / battery)^2. */
export function pulseAt(gauge: PulsedGauge, ohm: number): Pulse {
  const { heaterOhm, effectiveVolt, batteryVolt, periodMs } = gauge;
  const duty = Math.min(1, (effectiveVolt / batteryVolt) ** 2);
  const peakAmp = batteryVolt / (heaterOhm + ohm);
  return { peakAmp, rootMeanSquareAmp: peakAmp * Math.sqrt(duty), duty, onMs: duty * periodMs, periodMs };
}

/**
 * Highest value of a pulse behind a first-order lag, as a part of the pulse's height, once it repeats.
 * Source: y = (1 - exp(-on / tau)) / (1 - exp(-period / tau)).
 */
export const laggedPeakFraction = ({ onMs, periodMs }: Pulse, timeConstantMs: number): number =>
  (1 - Math.exp(-onMs / timeConstantMs)) / (1 - Math.exp(-periodMs / timeConstantMs));

const slowTimeConstantMs = (side: -1 | 1): number =>
  hardwareTrip.slow.timeConstantMs * (1 + (side * hardwareTrip.slow.timeConstantTolerancePercent) / 100);

/** Most that the slow comparator sees of a pulse, A: with the quickest low-pass its parts allow. */
export const slowPeakAmp = (pulse: Pulse): number =>
  pulse.peakAmp * laggedPeakFraction(pulse, slowTimeConstantMs(-1));

/** Time until the slow comparator trips on a steady current, ms, at the latest; Infinity for one it lets pass. */
export function slowTripMs(amp: number): number {
  const threshold = hardwareTrip.slow.maxMilliamp / 1000;
  return amp > threshold ? -slowTimeConstantMs(1) * Math.log(1 - threshold / amp) : Infinity;
}

/** A fast glass fuse melts in the end at about this times its rating; typical, from memory. */
const FUSING_RATIO = 1.6;

/**
 * How near to melting the wire of F1 comes at its hottest, 1 being molten. Its time constant follows from the melting
 * integral: far above the fusing current the wire heats without losing anything, so tau = I2t / Ifuse^2.
 */
export function fuseHeatFraction(pulse: Pulse): number {
  const fusingAmp = (FUSING_RATIO * path.fuse.ratedMilliamp) / 1000;
  const timeConstantMs = (1000 * path.fuse.meltingAmpSquaredSecond) / fusingAmp ** 2;
  return (pulse.peakAmp / fusingAmp) ** 2 * laggedPeakFraction(pulse, timeConstantMs);
}

/** I squared t of one pulse, A^2 s. */
export const pulseIntegral = ({ peakAmp, onMs }: Pulse): number => (peakAmp ** 2 * onMs) / 1000;

/** Most power one element meets with no firmware at all: what the slow comparator lets through for good, or 16 V, mW. */
export function hardwareOnlyMilliwatt(element: LadderElement): number {
  const ohm = element.nominalMilliohm / 1000;
  const milliamp = Math.min(hardwareTrip.slow.maxMilliamp, limits.supplyMaxMillivolt / ohm);
  return (milliamp * milliamp * ohm) / 1000;
}

/** Energy of one pulse in an element, J, at the highest peak the box allows and 16 V across it. */
export function pulseJoule(element: LadderElement, onMs: number): number {
  const ohm = element.nominalMilliohm / 1000;
  const amp = Math.min(limits.pulsePeakMaxMilliamp / 1000, limits.supplyMaxMillivolt / 1000 / ohm);
  return (amp * amp * ohm * onMs) / 1000;
}

/** The firmware counts the source this much smaller and the duty this much larger than it found them. */
const COUNTED = { source: 0.95, duty: 1.1 } as const;

/**
 * Lowest resistance that the firmware makes for a thermal job on such a feed, ohm; below 0: any. Source: Ohm; the peak
 * stays within the peak limit, the root mean square within the current limit.
 */
export function leastMadeOhm({ heaterOhm, effectiveVolt, batteryVolt }: PulsedGauge): number {
  const sourceOhm = COUNTED.source * heaterOhm;
  const heatVolt = Math.min(batteryVolt, effectiveVolt * Math.sqrt(COUNTED.duty));
  const byPeak = (1000 * batteryVolt) / limits.pulsePeakMaxMilliamp - sourceOhm;
  return Math.max(byPeak, (1000 * heatVolt) / limits.currentMaxMilliamp - sourceOhm);
}

/** The pulsed gauges the figures are stated for. 5 V and 12.22 ohm is the hungriest published one. */
export const pulsedGauges: readonly (readonly [name: string, gauge: PulsedGauge, ohm: number])[] = [
  ['thermal 5 V, 12.2 Ω, battery 14.4 V, 1 Hz, at 10 Ω', gauge5(14.4, 1000), 10],
  ['the same at 20 Ω', gauge5(14.4, 1000), 20],
  ['the same at 73 Ω', gauge5(14.4, 1000), 73],
  ['the same, 0.5 Hz, at 10 Ω', gauge5(14.4, 2000), 10],
  ['battery 16 V, 0.5 Hz, at 8 Ω', gauge5(16, 2000), 8],
  ['battery 9 V, 0.5 Hz, at 8 Ω', gauge5(9, 2000), 8],
  [
    'thermal 10 V, 58 Ω, battery 14.4 V, 1 Hz, at 20 Ω',
    { heaterOhm: 58, effectiveVolt: 10, batteryVolt: 14.4, periodMs: 1000 },
    20,
  ],
];

function gauge5(batteryVolt: number, periodMs: number): PulsedGauge {
  return { heaterOhm: 12.22, effectiveVolt: 5, batteryVolt, periodMs };
}

/** Hottest element without firmware, as a part of its rating. */
export const worstHardwareOnlyFraction = Math.max(
  ...elements.map((element) => hardwareOnlyMilliwatt(element) / element.ratedMilliwatt),
);
