/**
 * An open clip hangs on the middle of its divider, at the bias of 2.5 V, less what leaks. What reads otherwise is held by
 * something: a feed, a gauge without one, a short circuit.
 */
const OPEN_CLIP_MICROVOLT = { low: 1_000_000, high: 2_700_000 } as const;

/** True when nothing but the box's own divider holds the terminal voltage; NaN is not open. */
export const isOpenClip = (microvolt: number): boolean =>
  microvolt >= OPEN_CLIP_MICROVOLT.low && microvolt <= OPEN_CLIP_MICROVOLT.high;
