import type { Row } from './observations';
import type { Setting } from './settings';
import type { StopSide } from '../types';

type Noise = {
  readonly scatter: number;
  readonly step: number;
  readonly span: number;
  readonly rises: boolean;
};

const SIGNIFICANCE = 4.5;
/** As for plateaus: what can be one reading, and how little of the expected movement is left. */
const FLAT_SPREAD = 2.6;
const FLAT_PART = 0.25;
const LEAST_MISSED_PART = 0.04;
const LEAST_MISSED_STEPS = 3;

/**
 * Settings at an end of the sweep in which the needle rests although it was still moving just before: a stop that
 * nobody marked. The movement expected there goes on falling off as it did before, so that a law which flattens by
 * itself is not taken for a stop. Source: derived here.
 */
export function unmarkedStops(
  settings: readonly Setting[],
  noise: Noise,
): { readonly side: StopSide; readonly rows: readonly Row[] }[] {
  const found = [restingAt(settings, noise), restingAt([...settings].reverse(), noise)];
  return found.flatMap((run, atHighOhm) => {
    if (run === undefined) return [];
    const isHigh = (atHighOhm === 1) === noise.rises;
    return [{ side: isHigh ? 'high' : 'low', rows: run.flatMap((one) => one.rows) } as const];
  });
}

/** The resting run at the start of the list, if there is one. */
function restingAt(settings: readonly Setting[], noise: Noise): readonly Setting[] | undefined {
  for (let last = Math.min(settings.length - 5, 8); last >= 1; last -= 1) {
    const run = settings.slice(0, last + 1);
    const readings = run.map((one) => one.reading);
    const spread = Math.max(...readings) - Math.min(...readings);
    const slope = (i: number): number =>
      Math.abs(
        (settings[i + 1]!.reading - settings[i]!.reading) /
          (settings[i + 1]!.position - settings[i]!.position),
      );
    // The interval next to the run may hold part of the stop; the two beyond it tell how the slope falls off.
    const near = Math.max(slope(last), slope(last + 1));
    const decay = Math.min(1, slope(last + 1) / Math.max(slope(last + 2), Number.MIN_VALUE));
    let missed = 0;
    for (let i = last - 1, level = near * decay; i >= 0; i -= 1, level *= decay)
      missed += level * Math.abs(settings[i + 1]!.position - settings[i]!.position);
    const least = Math.max(LEAST_MISSED_PART * noise.span, LEAST_MISSED_STEPS * noise.step);
    const strength = (missed - spread) / (noise.scatter * 3);
    const able = Math.max(FLAT_SPREAD * noise.scatter, 1.05 * noise.step);
    const isFlat = spread <= Math.min(able, FLAT_PART * missed);
    if (missed > least && isFlat && strength > SIGNIFICANCE) return run;
  }
  return undefined;
}
