import type { Place, Topology } from './closed-form/topology';

/** Nothing to say but the code. */
type Bare = Readonly<Record<string, never>>;

/** Two sender resistances and what the gauge should see there. */
export type TwoPoints = {
  readonly highSenderOhm: number;
  readonly lowSenderOhm: number;
  readonly highWantedOhm: number;
  readonly lowWantedOhm: number;
};

/** Which resistor would have to be below zero. */
type NegativePart =
  | {
      readonly part: 'series' | 'shunt';
      readonly partOhm: number;
      readonly senderOhm: number;
      readonly wantedOhm: number;
    }
  | { readonly part: 'series-sender-side' | 'series-gauge-side'; readonly partOhm: number }
  | { readonly part: 'series-beside-gauge-shunt'; readonly partOhm: number; readonly shuntPerGauge: number };

type FittedPart = { readonly place: Place; readonly resistanceOhm: number };

/** Codes of this folder's refusals and their figures. */
export type NetworkRefusals = {
  /** `topology`: the one asked for, which another number of pairs fixes. */
  readonly PAIRS: { readonly pairCount: number; readonly topology?: Topology };
  readonly PAIR_VALUE: {
    readonly pairNumber: number;
    readonly senderOhm: number;
    readonly wantedOhm: number;
  };
  readonly PAIR_SAME: { readonly twice: 'sender' | 'wanted'; readonly resistanceOhm: number };
  readonly SENSE: TwoPoints;
  readonly SPAN_OHM: TwoPoints | { readonly spanRatio: number };
  readonly SPAN_SIEMENS: TwoPoints;
  readonly RATIO: TwoPoints;
  readonly NEGATIVE_PART: NegativePart;
  readonly CONCAVITY: {
    readonly curvature: number;
    readonly middleSenderOhm: number;
    readonly middleWantedOhm: number;
  };
  readonly MISMATCH: {
    readonly topology: Topology;
    readonly parts: readonly FittedPart[];
    readonly senderOhm: number;
    readonly seenOhm: number;
    readonly wantedOhm: number;
  };
  readonly GAUGE_OHM:
    | { readonly shuntPerGauge: number; readonly seriesOhm: number }
    | { readonly gaugeOhm: number };
  readonly GAUGE_RANGE: { readonly fromOhm: number; readonly toOhm: number };
  readonly GAUGE_NOT_FINITE: { readonly resistanceOhm: number };
  readonly GAUGE_NOT_MONOTONE: Bare;
  readonly SENDER_NOT_FINITE: { readonly value: number; readonly unit: string };
  readonly WEIGHTS: Bare;
  readonly BAND: {
    readonly wrong: 'empty' | 'outside';
    readonly from: number;
    readonly to: number;
    readonly unit: string;
    readonly senderFrom: number;
    readonly senderTo: number;
    readonly gaugeFrom: number;
    readonly gaugeTo: number;
  };
  readonly SAMPLES: { readonly samples: number; readonly fewest: number; readonly most: number };
  readonly SUPPLY: { readonly supplyVolt: number };
  readonly RULE_LIMIT: { readonly limit: number };
  readonly TOPOLOGY: Bare;
  readonly UNIT: { readonly gaugeUnit: string; readonly senderUnit: string };
  readonly STOCK: Bare | { readonly entry: number; readonly resistanceOhm: number; readonly count: number };
  readonly RANGE: { readonly series: string; readonly lowestOhm: number; readonly highestOhm: number };
  readonly TOLERANCE: { readonly tolerancePercent: number };
  readonly TANK_CURRENT: Bare;
};
