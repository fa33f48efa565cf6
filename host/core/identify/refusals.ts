type Bare = Readonly<Record<string, never>>;

/** Codes of this folder's refusals and their figures. */
export type IdentifyRefusals = {
  /** A unit that is not said is empty. */
  readonly IDENTIFY_UNIT: { readonly id: string; readonly curveUnit: string; readonly pointsUnit: string };
  readonly IDENTIFY_POINT: {
    readonly pointNumber: number;
    readonly value: number;
    readonly resistanceOhm: number;
  };
  readonly IDENTIFY_NO_POINTS: Bare;
  readonly IDENTIFY_NO_CURVES: Bare;
  readonly IDENTIFY_TOO_MANY: { readonly curveCount: number; readonly most: number };
};
