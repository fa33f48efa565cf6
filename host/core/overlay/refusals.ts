/** Codes of this folder's refusals and their figures. */
export type OverlayRefusals = {
  /** Printed more than 2 % too large or too small: nothing can be cut by it. */
  readonly OVERLAY_SCALED: {
    readonly acrossPercent: number;
    readonly upPercent: number;
    readonly mostPercent: number;
  };
  readonly OVERLAY_SIZE: {
    readonly wrong: 'radius' | 'hub' | 'sweep' | 'marks' | 'paper' | 'bar';
    readonly given: number;
  };
};
