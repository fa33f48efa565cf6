import { copperFactor } from './copper';

type GaugeMechanism = 'thermal' | 'two-coil' | 'cross-coil' | 'moving-coil' | 'electronic' | 'unknown';

/** A change of surroundings: the supply over its normal value, and how much warmer the dash is than at calibration. */
export type Surroundings = { readonly supplyRatio: number; readonly riseKelvin: number };

/** `gaugeOhm` is needed by series gauges (thermal, moving-coil); `isStabilised`: a stabiliser holds their feed. */
export type GaugeFeed = { readonly gaugeOhm?: number; readonly isStabilised: boolean };

/**
 * The sender resistance that would move the needle, in normal surroundings, as far as `seenOhm` does in changed ones;
 * undefined where the mechanism's law does not tell (unknown mechanism, a series gauge of unknown resistance) or there is
 * no finite resistance of 0 ohm or more (no supply, a coil colder than copper's straight line goes, an open sender).
 * Thermal: V_eff alone counts, the heater is a low-tempco alloy. Moving coil: V / (Rg + r) with a copper coil (the worst
 * case: no swamping resistor). Ratio gauges: supply cancels, and copper coils that all warm together act as a sender
 * divided by the same factor. Electronic: neither counts between 9 and 16 V.
 * Source: the mechanism laws; two-coil vector 18.4 to 16.8 degrees at +40 K.
 */
export const equivalentOhm = (
  mechanism: GaugeMechanism,
  seenOhm: number,
  surroundings: Surroundings,
  feed: GaugeFeed,
): number | undefined => {
  const ohm = seenOhm >= 0 ? movesAlikeOhm(mechanism, seenOhm, surroundings, feed) : undefined;
  return ohm !== undefined && ohm >= 0 && Number.isFinite(ohm) ? ohm : undefined;
};

const movesAlikeOhm = (
  mechanism: GaugeMechanism,
  seenOhm: number,
  surroundings: Surroundings,
  feed: GaugeFeed,
): number | undefined => {
  switch (mechanism) {
    case 'electronic':
      return seenOhm;
    case 'two-coil':
    case 'cross-coil':
      return seenOhm / copperFactor(surroundings.riseKelvin);
    case 'thermal':
      return seriesEquivalent(seenOhm, 1, surroundings, feed);
    case 'moving-coil':
      return seriesEquivalent(seenOhm, copperFactor(surroundings.riseKelvin), surroundings, feed);
    case 'unknown':
      return undefined;
  }
};

/** (Rg' + R) V / V' - Rg: same current in the gauge. A stronger supply can look like less than a short: then 0. */
const seriesEquivalent = (
  seenOhm: number,
  coilFactor: number,
  surroundings: Surroundings,
  { gaugeOhm, isStabilised }: GaugeFeed,
): number | undefined => {
  const ratio = isStabilised ? 1 : surroundings.supplyRatio;
  if (gaugeOhm === undefined || !(gaugeOhm >= 0 && coilFactor > 0 && ratio > 0)) return undefined;
  return Math.max(0, (gaugeOhm * coilFactor + seenOhm) / ratio - gaugeOhm);
};
