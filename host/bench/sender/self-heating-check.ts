import type { Refused } from '../../core/result';
import { refuse } from '../../refusals';
import type { CommandOf, EventBody } from '../../job';
import type { BenchClock } from '../clock';
import { GENTLE_RANGE, STRONG_RANGE, type SenderWatch } from './sender-watch';
import type { WatchedMeasure } from './watch-drift';

/** A brass-bodied sender is warm, or cold again, after this long: five times about 5 s. Common practice, no source. */
const SOAK_MS = 25_000;
const LAST_COUNT = 5;

/**
 * How long the box sends the current in one measurement: 20 ms to settle, then 34 samples of 6 ms, each up to a round
 * of its program late. Measured on the firmware in simulated time; a test holds it there.
 */
export const SENDING_MS = 288;

type Series = { readonly ohm: number; readonly uncertaintyOhm: number; readonly cycleMs: number };

const meanOf = (values: readonly number[]): number =>
  values.reduce((sum, each) => sum + each, 0) / values.length;

export type HeatingTools = {
  readonly watch: SenderWatch;
  readonly clock: BenchClock;
  readonly signal: AbortSignal;
  readonly show: (fraction: number) => void;
};

const CALLED_OFF = refuse('CALLED_OFF');

/** Measures back to back for the soak and answers the mean of the last few. */
const soak = async (
  { watch, clock, signal, show }: HeatingTools,
  microamp: number,
  from: number,
): Promise<Series | Refused> => {
  const startMs = clock.nowMs();
  const seen: WatchedMeasure[] = [];
  while (clock.nowMs() - startMs < SOAK_MS || seen.length < LAST_COUNT) {
    const measure = await watch.measure(microamp);
    if (signal.aborted) return CALLED_OFF;
    if ('kind' in measure) return measure;
    seen.push(measure);
    show(from + Math.min(1, (clock.nowMs() - startMs) / SOAK_MS) / 3);
  }
  const last = seen.slice(-LAST_COUNT);
  return {
    ohm: meanOf(last.map((each) => each.resistanceOhm)),
    uncertaintyOhm: meanOf(last.map((each) => each.uncertaintyOhm)),
    cycleMs: (clock.nowMs() - startMs) / seen.length,
  };
};

/**
 * Small current, large current, small current again: the mean of the two small ones takes a slow drift of the bath out.
 * Refuses too much resistance for the large current (HEATING_TOO_COLD), and what the box refuses.
 */
export const checkSelfHeating = async (
  tools: HeatingTools,
  { senderId, value }: CommandOf<'check-self-heating'>,
): Promise<EventBody | Refused> => {
  const before = await soak(tools, GENTLE_RANGE.microamp, 0);
  if ('kind' in before) return before;
  if (before.ohm > STRONG_RANGE.highestOhm) {
    return refuse('HEATING_TOO_COLD', {
      senderOhm: before.ohm,
      highestOhm: STRONG_RANGE.highestOhm,
    });
  }
  const strong = await soak(tools, STRONG_RANGE.microamp, 1 / 3);
  if ('kind' in strong) return strong;
  const after = await soak(tools, GENTLE_RANGE.microamp, 2 / 3);
  if ('kind' in after) return after;
  return {
    kind: 'self-heating',
    senderId,
    value,
    low: reading(GENTLE_RANGE.microamp, (before.ohm + after.ohm) / 2, before.uncertaintyOhm),
    high: reading(STRONG_RANGE.microamp, strong.ohm, strong.uncertaintyOhm),
    onFraction: Math.min(1, SENDING_MS / strong.cycleMs),
  };
};

const reading = (microamp: number, resistanceOhm: number, uncertaintyOhm: number) => ({
  microamp,
  resistanceOhm,
  uncertaintyOhm,
});
