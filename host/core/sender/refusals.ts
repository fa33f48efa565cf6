type Bare = Readonly<Record<string, never>>;

/** Which number of a point cannot be, and what it should have been. */
export type PointFault =
  | { readonly of: 'value'; readonly wrong: 'size'; readonly given: number; readonly most: number }
  | { readonly of: 'value'; readonly wrong: 'below-absolute-zero'; readonly given: number }
  | { readonly of: 'resistance'; readonly wrong: 'short' }
  | {
      readonly of: 'resistance';
      readonly wrong: 'size';
      readonly given: number;
      readonly least: number;
      readonly most: number;
    }
  | {
      readonly of: 'valueUncertainty' | 'resistanceUncertainty';
      readonly wrong: 'size';
      readonly given: number;
      readonly most: number;
    };

type At = { readonly value: number; readonly resistanceOhm: number };

/** Codes of this folder's refusals and their figures. Values in `unit`, that of the sender. */
export type SenderRefusals = {
  readonly SENDER_TOO_FEW_POINTS: {
    readonly valueCount: number;
    readonly fewest: number;
    readonly model?: string;
  };
  readonly SENDER_TOO_MANY_POINTS: { readonly pointCount: number; readonly most: number };
  readonly SENDER_POINT: { readonly pointNumber: number; readonly unit: string; readonly fault: PointFault };
  readonly SENDER_MODEL: {
    readonly model: string;
    readonly degree?: number;
    readonly highestDegree?: number;
  };
  /** A curve at one value, measured points, or a law between its points. */
  readonly SENDER_NOT_MONOTONE:
    | { readonly turnsBackAt: number; readonly unit: string }
    | { readonly points: readonly At[] }
    | { readonly model: string; readonly from: number; readonly to: number };
  readonly SENDER_NEGATIVE: { readonly model: string; readonly from: number; readonly to: number };
  readonly SENDER_UNDETERMINED: { readonly model?: string };
  readonly SENDER_OUT_OF_RANGE:
    | {
        readonly value: number;
        readonly unit: string;
        readonly from: number;
        readonly to: number;
      }
    | { readonly resistanceOhm: number; readonly fromOhm: number; readonly toOhm: number }
    | { readonly resistanceOhm: number; readonly uncertaintyOhm: number };
  readonly SENDER_TOLERANCE: { readonly tolerancePercent: number };
  /** A sender's unit cannot be turned into another's. */
  readonly SENDER_UNIT: { readonly fromUnit: string; readonly toUnit: string };
  /** The curve ends before the dangerous end of the dial. */
  readonly SENDER_SHORT_OF_DANGER: {
    readonly endsAt: number;
    readonly wanted: number;
    readonly unit: string;
  };
  readonly SELF_HEATING_NOT_SEEN: { readonly fallPercent: number; readonly noisePercent: number };
  readonly SELF_HEATING_TOO_HOT:
    | { readonly riseAboveCelsius: number }
    | { readonly currentAmp: number; readonly hottest: number; readonly unit: string };
  readonly SELF_HEATING_INPUT:
    | { readonly wrong: 'not-temperature' | 'not-real' | 'resistance' }
    | { readonly wrong: 'no-more-power'; readonly lowWatt: number; readonly highWatt: number };
  readonly HEATING_UNIT: Bare;
  readonly HEATING_NO_CURVE: Bare;
};
