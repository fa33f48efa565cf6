import type { Quantity } from '../response';
import type { ReferenceKind } from './reference-kinds';

/** Codes of this folder's refusals and their figures; values in `unit`, the dial's. */
export type ProofRefusals = {
  /** A reference of another quantity than the dial's. */
  readonly REFERENCE_QUANTITY: { readonly reference: ReferenceKind; readonly quantity: Quantity };
  /** What its uncertainty is reckoned from was not given. */
  readonly REFERENCE_UNSAID: {
    readonly reference: ReferenceKind;
    readonly missing: 'class' | 'full-scale' | 'tank' | 'uncertainty' | 'emissivity';
  };
  /** A surface that shows the heat of its surroundings. `shown`: what it would show at 90 degC. */
  readonly REFERENCE_SHINY: {
    readonly emissivity: number;
    readonly least: number;
    readonly shownCelsius: number;
  };
  readonly REFERENCE_CHANGES: {
    readonly ratePerMinute: number;
    readonly most: number;
    readonly unit: string;
  };
  /** A hint at a value, no measurement of it. */
  readonly REFERENCE_HINT: { readonly reference: ReferenceKind };
  /** A limit with nothing between its sides. */
  readonly PROOF_LIMIT: { readonly lower: number; readonly upper: number; readonly unit: string };
  readonly PROOF_NO_PAIRS: Readonly<Record<string, never>>;
  /** No sender near the one of the curve would give these pairs. */
  readonly PROOF_FITS_NOTHING: Readonly<Record<string, never>>;
  /** A pair whose numbers cannot be. */
  readonly PROOF_PAIR: {
    readonly number: number;
    readonly wrong: 'value' | 'indicated' | 'uncertainty';
    readonly given: number;
  };
};
