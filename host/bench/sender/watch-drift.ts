/** One measurement of the watch. */
export type WatchedMeasure = {
  readonly measureId: number;
  readonly atMs: number;
  readonly resistanceOhm: number;
  readonly uncertaintyOhm: number;
};

export type Drift = { readonly ohmPerMinute: number; readonly relativePerMinute: number };

const WINDOW_MS = 15_000;
const FEWEST = 4;
const MS_PER_MINUTE = 60_000;

/**
 * How fast the resistance moves: slope of the line of least squares through the last 15 s before `atMs` (left out: the
 * newest). Undefined with fewer than four measurements in that time.
 * Source: ordinary least squares, centred. Derived here; tests/bench/sender-watch.test.ts.
 */
export const driftOf = (measures: readonly WatchedMeasure[], atMs?: number): Drift | undefined => {
  const endMs = atMs ?? measures.at(-1)?.atMs ?? 0;
  const seen = measures.filter((each) => each.atMs <= endMs && each.atMs > endMs - WINDOW_MS);
  if (seen.length < FEWEST) return undefined;
  const mean = (pick: (each: WatchedMeasure) => number): number =>
    seen.reduce((sum, each) => sum + pick(each), 0) / seen.length;
  const middleMs = mean((each) => each.atMs);
  const middleOhm = mean((each) => each.resistanceOhm);
  const spread = seen.reduce((sum, each) => sum + (each.atMs - middleMs) ** 2, 0);
  const shared = seen.reduce(
    (sum, each) => sum + (each.atMs - middleMs) * (each.resistanceOhm - middleOhm),
    0,
  );
  if (!(spread > 0 && middleOhm > 0)) return undefined;
  const ohmPerMinute = (shared / spread) * MS_PER_MINUTE;
  return { ohmPerMinute, relativePerMinute: ohmPerMinute / middleOhm };
};

/**
 * Bounds in parts per minute. A thermistor moves about 3 % a kelvin, so still is a tenth of a kelvin a minute and too
 * fast is about four. Common practice, no source.
 */
const STILL_PER_MINUTE = 0.003;
const TOO_FAST_PER_MINUTE = 0.12;
/** Points this far apart in ln R (about 5 K of a thermistor) describe a curve without crowding it. */
const STEP_LOG = 0.15;
/** A still sender is worth another point only if it has moved at all since the last. */
const MOVED_LOG = 0.02;

/**
 * Is now a good moment for a point: `steady` (it stands still, and not where the last point was taken), `moved` (far
 * enough from the last), `too-fast` (no thermometer follows that), or undefined (wait).
 */
export const proposalFor = (
  resistanceOhm: number,
  drift: Drift | undefined,
  lastTakenOhm: number | undefined,
): 'steady' | 'moved' | 'too-fast' | undefined => {
  if (drift === undefined) return undefined;
  const speed = Math.abs(drift.relativePerMinute);
  if (speed > TOO_FAST_PER_MINUTE) return 'too-fast';
  const movedLog =
    lastTakenOhm === undefined || lastTakenOhm <= 0 || resistanceOhm <= 0
      ? Infinity
      : Math.abs(Math.log(resistanceOhm / lastTakenOhm));
  if (speed <= STILL_PER_MINUTE && movedLog >= MOVED_LOG) return 'steady';
  return movedLog >= STEP_LOG ? 'moved' : undefined;
};
