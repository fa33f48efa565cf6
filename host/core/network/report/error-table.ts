import type { GaugeResponse, SenderResponse } from '../../response';
import { isIgnorance } from '../../at-work';
import { riseWith, workingOhm } from '../search/heat';
import type { Heat } from '../search/heat';
import { powerShares, treeOf } from '../closed-form/ladder-tree';
import { gaugeShuntGain, seenOhm } from '../closed-form/network-law';
import type { Network } from '../closed-form/topology';

/** One line of the table a person sticks to the dash: true value, what the needle shows, and how sure that is. */
export type ErrorRow = {
  readonly trueValue: number;
  readonly senderOhm: number;
  readonly seenOhm: number;
  readonly indicated: number;
  /** Indicated minus true, dial units. */
  readonly error: number;
  /**
   * k = 2: gauge curve, sender curve, part tolerances and the sender's own heat together. Where the heat is not known but
   * for an interval, that interval is added as it is.
   */
  readonly expandedUncertainty: number;
  /** What the sender's own heat does, where it is counted. */
  readonly heat?: RowHeat;
};

/** How much warmer the sender is than what it measures (dial units), and the needle at both ends of what that may be. */
export type RowHeat = {
  readonly rise: number;
  readonly indicatedIfMost: number;
  readonly indicatedIfLeast: number;
};

/** d ln R / d ln of the sender and of each part at one sender resistance (dimensionless). */
export type Sensitivities = { readonly sender: number; readonly parts: readonly number[] };

const COVERAGE_FACTOR = 2;
/** Step in ln R for the slope of the needle: wide enough to bridge the edge of a plateau, below any needle's width. */
const SLOPE_STEP = 0.01;

/**
 * How much of a relative change of sender or part reaches what the gauge sees. Around the sender they are power shares
 * and sum to 1; a resistor across the gauge has -Rg/(Rg + Rx).
 * Source: S-invariant, d ln R / d ln r_i = P_i / P; gauge shunt from m = 1 + Rg/Rx.
 */
export const sensitivities = (network: Network, senderOhm: number): Sensitivities => {
  const partsOhm = network.parts.map((part) => part.resistanceOhm);
  const shares = powerShares(treeOf(network), partsOhm, senderOhm);
  if (network.topology !== 'gauge-shunt') return shares;
  const gain = gaugeShuntGain(network.gaugeOhm ?? 0, partsOhm[0]!);
  return { sender: shares.sender, parts: [(1 - gain) / gain, ...shares.parts.slice(1)] };
};

/** d reading / d ln R of a gauge at a resistance, dial units. Source: central difference. */
const slopePerLogOhm = (gauge: GaugeResponse, ohm: number): number =>
  ohm > 0 && ohm < Infinity
    ? (gauge.reading(ohm * (1 + SLOPE_STEP)) - gauge.reading(ohm / (1 + SLOPE_STEP))) /
      (2 * Math.log1p(SLOPE_STEP))
    : 0;

export type Loaded = {
  readonly gauge: GaugeResponse;
  readonly sender: SenderResponse;
  readonly network: Network;
  readonly heat?: Heat | undefined;
  readonly tolerancePercent: (resistanceOhm: number) => number;
  /** Half of what the gauge's own warmth does to the needle, dial units. */
  readonly dashHalf: number;
};

/** Standard uncertainty of the gauge at what it sees: its curve, and how warm its dash is. Source: GUM 4.3.7. */
export const uncertaintyOfGauge = ({ gauge, dashHalf }: Loaded, ohm: number): number =>
  Math.hypot(gauge.readingUncertainty(ohm), dashHalf / Math.sqrt(3));

/** Standard uncertainty of the reading from the parts' tolerances (rectangular), dial units. Source: S-invariant. */
export const partsUncertainty = (loaded: Loaded, senderOhm: number): number => {
  const { network, gauge } = loaded;
  const slope = slopePerLogOhm(gauge, seenOhm(network, senderOhm));
  const shares = sensitivities(network, senderOhm).parts;
  const terms = network.parts.map(
    (part, index) => (shares[index]! * loaded.tolerancePercent(part.resistanceOhm)) / 100 / Math.sqrt(3),
  );
  return Math.abs(slope) * Math.hypot(...terms);
};

const sum = (values: readonly number[]): number => values.reduce((total, each) => total + each, 0);

/** Resistance of the sender at a true value, in its circuit. */
export const loadedOhm = ({ heat, sender, network }: Loaded, value: number, wattPerUnit?: number): number =>
  workingOhm(
    heat,
    network,
    { value, coldOhm: sender.ohm(value) },
    wattPerUnit === undefined ? {} : { wattPerUnit },
  );

/** What the sender's own heat does at one true value; undefined where it is not counted. */
const rowHeat = (loaded: Loaded, trueValue: number): RowHeat | undefined => {
  const { heat, gauge, network, sender } = loaded;
  if (heat === undefined) return undefined;
  const shownWith = (wattPerKelvin: number): number =>
    gauge.reading(seenOhm(network, loadedOhm(loaded, trueValue, wattPerKelvin / heat.curve.perKelvin)));
  return {
    rise: riseWith(heat, network, { value: trueValue, coldOhm: sender.ohm(trueValue) }),
    indicatedIfMost: shownWith(heat.factor.lowestWattPerKelvin),
    indicatedIfLeast: shownWith(heat.factor.highestWattPerKelvin),
  };
};

/** The uncertainty with that of the heat: an interval of ignorance as it is, a measured one as a random error. */
const withHeat = (loaded: Loaded, half: number, indicated: number, heat: RowHeat | undefined): number => {
  if (heat === undefined || loaded.heat === undefined) return half;
  const widest = Math.max(
    Math.abs(heat.indicatedIfMost - indicated),
    Math.abs(heat.indicatedIfLeast - indicated),
  );
  return isIgnorance(loaded.heat.factor) ? half + widest : Math.hypot(half, widest);
};

/** The row at one true value. Source: root sum of squares of gauge, sender and parts, GUM first order, k = 2. */
export const errorRow = (loaded: Loaded, trueValue: number): ErrorRow => {
  const { gauge, sender, network } = loaded;
  const senderOhm = loadedOhm(loaded, trueValue);
  const ohm = seenOhm(network, senderOhm);
  const indicated = gauge.reading(ohm);
  const share = sensitivities(network, senderOhm).sender;
  const terms = [
    uncertaintyOfGauge(loaded, ohm),
    slopePerLogOhm(gauge, ohm) * share * sender.relativeUncertainty(trueValue),
    partsUncertainty(loaded, senderOhm),
  ];
  const heat = rowHeat(loaded, trueValue);
  const half = COVERAGE_FACTOR * Math.sqrt(sum(terms.map((term) => term * term)));
  return {
    trueValue,
    senderOhm,
    seenOhm: ohm,
    indicated,
    error: indicated - trueValue,
    expandedUncertainty: withHeat(loaded, half, indicated, heat),
    ...(heat === undefined ? {} : { heat }),
  };
};
