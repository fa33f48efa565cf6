/** An end of a scale as it is printed. */
type PrintedMark = { readonly label: string; readonly reading: number };

/** A needle this part of the scale past its end mark still stands on it, for an eye. Common practice, no source. */
const ON_MARK_PART = 0.01;
/** Needles meet their stops about this far past the end marks. Common practice, no source. */
const STOP_PART = 0.06;

/** Where a needle stands that is not on its scale. `endMark`: as printed at that end, where the dial is known. */
export type OffScale = {
  readonly side: 'low' | 'high';
  readonly isOnStop: boolean;
  readonly endMark?: string;
};

/**
 * Where a needle is that stands off its scale: no number is printed there, so none is told. Undefined for a reading on
 * the scale, and for a number that is none. Source: the limits above.
 */
export function offScale(marks: readonly PrintedMark[], reading: number): OffScale | undefined {
  const ordered = [...marks].sort((one, other) => one.reading - other.reading);
  const [low, high] = [ordered[0], ordered.at(-1)];
  if (low === undefined || high === undefined) return undefined;
  const span = high.reading - low.reading;
  const [below, above] = [low.reading - reading, reading - high.reading];
  if (below > ON_MARK_PART * span)
    return { side: 'low', isOnStop: below > STOP_PART * span, endMark: low.label };
  return above > ON_MARK_PART * span
    ? { side: 'high', isOnStop: above > STOP_PART * span, endMark: high.label }
    : undefined;
}
