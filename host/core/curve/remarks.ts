/** Codes of this folder's remarks and their figures. Readings in `unit`, that of the dial. */
export type CurveRemarks = {
  readonly CURVE_READING_QUESTIONED: {
    readonly readingNumber: number;
    readonly reading: number;
    readonly unit: string;
    readonly resistanceOhm: number;
    readonly residual: number;
    readonly weightPercent: number;
  };
  readonly CURVE_SETTING_DIFFERS: {
    readonly resistanceOhm: number;
    readonly readings: readonly number[];
    readonly unit: string;
  };
  readonly CURVE_STICKY: {
    readonly difference: number;
    readonly unit: string;
    readonly percentOfSpan: number;
  };
  readonly CURVE_SUPPLY_STEP: {
    readonly upVolt: number;
    readonly downVolt: number;
    /** Deflection goes with volts to this power. */
    readonly exponent: number;
    readonly largestChange: number;
    readonly unit: string;
  };
  readonly CURVE_WARMING: { readonly difference: number; readonly unit: string };
  readonly CURVE_ONE_LEG: {
    readonly isPartlyMeasured: boolean;
    readonly allowedHalf: number;
    readonly unit: string;
  };
  readonly CURVE_MARK_UNREACHED: { readonly reading: number; readonly unit: string };
  readonly CURVE_EXTRAPOLATED: { readonly reading: number; readonly unit: string };
  readonly CURVE_LAW_CONTRADICTED: { readonly law: string; readonly by: number };
  readonly CURVE_LAW_UNDECIDED: { readonly laws: readonly string[]; readonly isMechanismSaid: boolean };
  /** No law of a coil or a bimetal holds; where the curve is known least, and to what (expanded). */
  readonly CURVE_NO_LAW: {
    readonly resistanceOhm: number;
    readonly expandedUncertainty: number;
    readonly unit: string;
  };
  readonly CURVE_STOP_INFERRED: {
    readonly side: 'low' | 'high';
    readonly reading: number;
    readonly unit: string;
    readonly seenFromOhm: number;
    readonly seenToOhm: number;
  };
  readonly CURVE_PLATEAU: {
    readonly fromOhm: number;
    readonly toOhm: number;
    readonly reading: number;
    readonly unit: string;
  };
  readonly CURVE_FEW_READINGS: { readonly readingCount: number };
  readonly CURVE_REST_UNSEEN: { readonly settingCount: number };
};
