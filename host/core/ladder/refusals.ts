/** Codes of this folder's refusals and their figures. */
export type LadderRefusals = {
  readonly LADDER_ROW: {
    readonly rowIndex: number;
    readonly contactBit: number;
    readonly milliohm: number;
    readonly uncertaintyMilliohm: number;
  };
  /** Too many or too few elements, or one contact named twice. */
  readonly LADDER_TABLE: { readonly elementCount: number } | { readonly isContactTwice: true };
  readonly LADDER_RANGE: {
    readonly resistanceOhm: number;
    readonly fromOhm: number;
    readonly toOhm: number;
  };
};
