type Bare = Readonly<Record<string, never>>;

/** Codes of this folder's refusals and their figures. Readings in the unit of the dial. */
export type CurveRefusals = {
  /** `atOhm`: too many at this one resistance. */
  readonly CURVE_TOO_MANY: { readonly readingCount: number; readonly most: number; readonly atOhm?: number };
  /** `readingNumber`: of a list, counted from 1. */
  readonly CURVE_BAD_NUMBER:
    | { readonly readingNumber: number; readonly resistanceOhm: number; readonly reading: number }
    | { readonly resistanceOhm: number };
  readonly CURVE_FLAT: { readonly reading: number; readonly unit: string };
  readonly CURVE_NOT_MONOTONE: { readonly explainedPercent: number };
  readonly CURVE_ALL_AT_STOPS: Bare;
  readonly CURVE_TOO_FEW: { readonly settingCount: number; readonly fewest: number };
  readonly CURVE_TOO_FAR: {
    readonly resistanceOhm: number;
    readonly measuredFromOhm: number;
    readonly measuredToOhm: number;
  };
  /** `knotCount`: of a curve through every reading, where that are too many. */
  readonly CURVE_LAW_IMPOSSIBLE: { readonly law?: string; readonly knotCount?: number };
  readonly FIT_TOO_MANY_KNOTS: { readonly knotCount: number; readonly most: number };
  readonly SPLINE_SINGULAR: Bare;
};
