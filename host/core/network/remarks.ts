import type { OffScale } from '../dial';
import type { Place } from './closed-form/topology';

type Bare = Readonly<Record<string, never>>;

/** What an instrument must not do where being wrong hurts. Limits and values in the gauge's own unit. */
export type RuleSays =
  | { readonly side: 'low'; readonly limit: number; readonly from: number }
  | { readonly side: 'high'; readonly limit: number; readonly upTo?: number }
  | { readonly side: 'either' };

/** Where an error to the dangerous side counts `weight` times (dimensionless). Values in the gauge's own unit. */
export type DangerSays =
  | { readonly side: 'low'; readonly from: number; readonly weight: number }
  | { readonly side: 'high'; readonly upTo: number; readonly weight: number };

/** What the needle does when a part fails. Readings and values in the gauge's own unit. */
export type FailedNeedle =
  | { readonly does: 'stays'; readonly at: OffScale | number }
  | { readonly does: 'misreads'; readonly error: number; readonly atValue: number }
  | { readonly does: 'leaves-scale'; readonly to: OffScale; readonly atValue: number };

/** What a failed part hides from the driver. */
export type Hidden = 'overheating' | 'no-pressure' | 'empty-tank' | 'unknown';

/** Codes of this folder's remarks and their figures. */
export type NetworkRemarks = {
  readonly UNIT_TAKEN_AS_SAME: { readonly gaugeUnit: string; readonly senderUnit: string };
  readonly GAUGE_SHUNT_LEFT_OUT: {
    readonly because: 'not-asked' | 'gauge-ohm-unknown' | 'three-terminals';
    readonly mechanism?: string;
  };
  readonly TANK_SHUNTS_LEFT_OUT: Bare;
  /** `half`: what the gauge's own warmth adds to the uncertainty, dial units. */
  readonly DASH_ASSUMED: { readonly half: number; readonly unit: string };
  readonly RULE_COSTS: { readonly rule: RuleSays; readonly worstError: number; readonly unit: string };
  readonly RULE_NOT_KEPT: { readonly rule: RuleSays; readonly unit: string };
  readonly SHAPE_NOT_MET: { readonly worstError: number; readonly unit: string };
  readonly FLAT_ZONE: Bare;
  readonly NETWORK_EXTRAPOLATED: {
    readonly seenFromOhm: number;
    readonly seenToOhm: number;
    readonly measuredFromOhm: number;
    readonly measuredToOhm: number;
  };
  readonly PART_OVERLOADED: { readonly place: Place; readonly powerWatt: number };
  readonly TWO_TERMINALS_NEEDED: Bare;
  readonly SENDER_CURRENT_RISES: { readonly milliamp: number; readonly milliampBefore: number };
  readonly DANGEROUS_FAILURE: {
    readonly place: Place;
    readonly fails: 'open' | 'short';
    readonly needle: FailedNeedle;
    readonly hides: Hidden;
    readonly unit: string;
  };
};
