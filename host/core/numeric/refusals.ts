type Bare = Readonly<Record<string, never>>;

/** Codes of this folder's refusals and their figures. */
export type NumericRefusals = {
  readonly LEAST_SQUARES_TOO_FEW: { readonly observationCount: number; readonly parameterCount: number };
  readonly LEAST_SQUARES_START: Bare;
  readonly LEAST_SQUARES_UNDETERMINED: Bare;
  readonly CUBIC_TOO_FEW: { readonly xCount: number; readonly yCount: number };
  readonly CUBIC_NOT_FINITE: Bare;
  readonly CUBIC_ORDER: { readonly knotNumber: number; readonly x: number };
};
