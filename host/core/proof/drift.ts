/** One figure as it was left and as it is now, dial units; uncertainties at 95 %. */
export type ThenAndNow = {
  readonly then: number;
  readonly thenUncertainty: number;
  readonly now: number;
  readonly nowUncertainty: number;
};

export type Drift = {
  readonly kind: 'drift';
  /** E_n of each figure. */
  readonly scores: readonly number[];
  readonly hasMoved: boolean;
};

/**
 * Whether a needle still is as it was left: the error at one warm place and the rest mark, a season later.
 * Source: E_n over both uncertainties, ISO/IEC 17043 B.3.1.3 e (from memory). What is not a number has moved.
 */
export const driftOf = (figures: readonly ThenAndNow[]): Drift => {
  const scores = figures.map(
    ({ then, thenUncertainty, now, nowUncertainty }) =>
      Math.abs(now - then) / Math.hypot(thenUncertainty, nowUncertainty),
  );
  return { kind: 'drift', scores, hasMoved: scores.some((score) => !(score <= 1)) };
};
