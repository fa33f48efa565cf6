import type { DissipationFactor, LeadSource } from '../../at-work';
import type { MountingPlace, SeriesName } from '../../preferred';
import type { Weight } from './problem';
import type { Topology } from '../closed-form/topology';

/** How the gauge works, as far as supply and dash temperature matter. */
export type Mechanism = 'thermal' | 'two-coil' | 'cross-coil' | 'moving-coil' | 'electronic' | 'unknown';

/** A value in the person's drawer: how many there are (endless when not given) and how close they are. */
export type StockPart = {
  readonly resistanceOhm: number;
  readonly count?: number;
  readonly tolerancePercent?: number;
};

/** What a person may ask of a trim network. Values and limits are in the gauge's own unit. */
export type TrimOptions = {
  /** Used band of true values; as far as both curves are known when not given. */
  readonly from?: number;
  readonly to?: number;
  /** Points of the band at which the needle is judged, ends included. */
  readonly samples?: number;
  readonly weights?: readonly Weight[];
  readonly series?: SeriesName;
  readonly lowestOhm?: number;
  readonly highestOhm?: number;
  /** Parts at hand: searched instead of a series. */
  readonly stock?: readonly StockPart[];
  readonly tolerancePercent?: number;
  readonly maxParts?: 0 | 1 | 2 | 3;
  readonly topologies?: readonly Topology[];
  /** How many networks of each topology are answered. */
  readonly perTopology?: number;
  /** How far the gauge may err to the dangerous side where it matters. */
  readonly ruleLimit?: number;
  /** How many times an error to the dangerous side counts in the dangerous quarter of the band. */
  readonly dangerWeight?: number;
  /** A worst error above this, where a theorem shows that nothing passive does better, is refused. */
  readonly acceptableError?: number;
  /** How far the job may err anywhere in the band, dial units; the usual part of the scale when not given. */
  readonly limit?: number;
  readonly supplyVolt?: number;
  /** The worst supply: charging fault, or a stabiliser stuck closed. */
  readonly highestSupplyVolt?: number;
  /** Resistance of the gauge between its feed and sender terminals. */
  readonly gaugeOhm?: number;
  readonly terminals?: 2 | 3;
  /** What stands behind the sender lead, measured; from supply and gauge resistance when not given. */
  readonly lead?: LeadSource;
  /** What the sender sheds in its place; the interval of its kind when not given. */
  readonly dissipation?: DissipationFactor;
  readonly mechanism?: Mechanism;
  /** How far the needle moved at one mark from a cold to a hot dash, dial units; the interval of its kind when not given. */
  readonly dashShift?: number;
  readonly place?: MountingPlace;
  /** Monte Carlo over tolerances: trials for each candidate, and the seed. */
  readonly trials?: number;
  readonly seed?: number;
};

/** Defaults: each with its reason. */
export const trimDefaults = {
  /** With ends included, a step of 1/60 of the band: finer than a needle is wide. */
  samples: 61,
  series: 'E24',
  lowestOhm: 1,
  highestOhm: 10_000,
  maxParts: 3,
  perTopology: 2,
  /** Fraction of the band beyond which a demand that a theorem forbids is refused rather than half met. */
  acceptableFraction: 0.15,
  /** Charging voltage of a 12 V vehicle. Common practice, no source. */
  supplyVolt: 13.8,
  /** Regulator fault or stabiliser stuck closed while charging. Common practice, no source. */
  highestSupplyVolt: 16,
  place: 'dash',
  trials: 200,
  seed: 1,
} as const;
