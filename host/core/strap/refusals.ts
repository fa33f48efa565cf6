/** Codes of this folder's refusals and their figures. */
export type StrapRefusals = {
  /** Too few fillings with a reading to draw a table from. */
  readonly STRAP_TOO_FEW: { readonly given: number; readonly fewest: number };
  /** A step that cannot be: litres that do not go on in one direction within a way, or no number. */
  readonly STRAP_STEP: {
    readonly number: number;
    readonly litre: number;
    readonly wrong: 'number' | 'order';
  };
  readonly STRAP_NO_RESERVE: { readonly reserveLitre: number; readonly mostLitre: number };
  /** Chance asked for that is none. */
  readonly STRAP_CHANCE: { readonly chance: number };
};
