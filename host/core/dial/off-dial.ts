/** An end of a scale as it is printed. */
type PrintedMark = { readonly label: string; readonly reading: number };

/** A needle this part of the scale past its end mark still stands on it, for an eye. Common practice, no source. */
const ON_MARK_PART = 0.01;
/** Needles meet their stops about this far past the end marks. Common practice, no source. */
const STOP_PART = 0.06;

const isNumber = (label: string): boolean => label.trim() !== '' && Number.isFinite(Number(label));

/**
 * What is said of a needle that stands off its scale: no number is printed there, so none is told. "below C, on the low
 * stop". Undefined for a reading on the scale, and for a number that is none.
 */
export function offDialWords(
  marks: readonly PrintedMark[],
  unit: string,
  reading: number,
): string | undefined {
  const ordered = [...marks].sort((one, other) => one.reading - other.reading);
  const [low, high] = [ordered[0], ordered.at(-1)];
  if (low === undefined || high === undefined) return undefined;
  const span = high.reading - low.reading;
  const printed = ({ label }: PrintedMark): string => (isNumber(label) ? `${label} ${unit}`.trim() : label);
  const [isBelow, isAbove] = [low.reading - reading, reading - high.reading].map(
    (by) => by > ON_MARK_PART * span,
  );
  if (isBelow === true) {
    const isOnStop = low.reading - reading > STOP_PART * span;
    return `below ${printed(low)}${isOnStop ? ', on the low stop' : ''}`;
  }
  if (isAbove !== true) return undefined;
  const isOnStop = reading - high.reading > STOP_PART * span;
  return `above ${printed(high)}${isOnStop ? ', on the high stop' : ''}`;
}
