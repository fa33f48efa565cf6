/** Codes of this folder's refusals and their figures. */
export type DialRefusals = {
  readonly DIAL_TOO_FEW: { readonly markCount: number };
  readonly DIAL_BAD_NUMBER: {
    readonly label: string;
    readonly reading: number;
    readonly angleFraction: number;
  };
  readonly DIAL_SAME_PLACE: { readonly oneLabel: string; readonly otherLabel: string };
  readonly DIAL_NOT_MONOTONE: { readonly readings: readonly number[] };
};
