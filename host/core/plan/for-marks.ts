import { ohmAt, placeCovariance } from '../curve';
import type { GaugeCurve } from '../curve';

/** A mark of the dial that the job wants known, and how much it counts. */
export type MarkThatCounts = { readonly reading: number; readonly weight: number };

export type MarkPlan = {
  readonly marks: readonly MarkThatCounts[];
  /** Readings that one more setting gives: one a leg. */
  readonly readingsEach: number;
  /** Minutes that the new setting takes with all its readings. */
  readonly minutes: number;
  /** Smallest part of the marks' uncertainty that a minute must take away; `LEAST_GAIN_A_MINUTE` when absent. */
  readonly leastGainAMinute?: number;
};

export type MarkSetting =
  | {
      readonly kind: 'setting';
      readonly resistanceOhm: number;
      /** Root mean square of the marks' standard uncertainty, as parts of the arc: now, and with this setting. */
      readonly now: number;
      readonly then: number;
    }
  | { readonly kind: 'enough'; readonly now: number };

/** Places tried, even in ln R. */
const PLACES = 40;
/** Nearer settings share their rounding and tell little new. */
const CLOSEST_RATIO = 1.04;
/** A minute beside the needle is worth this much less uncertainty. Common practice, no source. */
const LEAST_GAIN_A_MINUTE = 0.03;

/**
 * The setting whose reading would make the marks that count surest, by the expected fall of their mean variance, or
 * `enough` where no setting is worth its minutes. What a reading at R takes from the variance at a mark m is
 * C(R, m)^2 / (C(R, R) + s^2), with C the covariance of the curve.
 * Source: linear estimation, GUM 5.2.2 and its conditional variance; I-optimality as in Atkinson, Donev and Tobias,
 * Optimum Experimental Designs (2007), section 10.6 (from memory). Checked against designs for the true law in the bench.
 */
export function settingForMarks(curve: GaugeCurve, plan: MarkPlan): MarkSetting {
  const { model } = curve;
  const covariance = placeCovariance(model);
  const marks = plan.marks.flatMap(({ reading, weight }) => {
    const found = ohmAt(curve, reading);
    return found.kind === 'one' && found.resistanceOhm > 0 ? [{ ohm: found.resistanceOhm, weight }] : [];
  });
  const total = marks.reduce((sum, { weight }) => sum + weight, 0);
  if (!(total > 0)) return { kind: 'enough', now: 0 };
  const mean = (of: (ohm: number) => number): number =>
    marks.reduce((sum, { ohm, weight }) => sum + weight * of(ohm), 0) / total;
  const now = mean((ohm) => covariance(ohm, ohm));
  const scatter = model.readingStandardDeviation ** 2 / plan.readingsEach;
  const tried = candidatesOf(curve).map((ohm) => ({
    ohm,
    gain: mean((mark) => covariance(ohm, mark) ** 2) / (covariance(ohm, ohm) + scatter),
  }));
  const best = tried.reduce<(typeof tried)[number] | undefined>(
    (most, one) => (most === undefined || one.gain > most.gain ? one : most),
    undefined,
  );
  const then = Math.sqrt(Math.max(0, now - (best?.gain ?? 0)));
  const least = (plan.leastGainAMinute ?? LEAST_GAIN_A_MINUTE) * plan.minutes;
  if (best === undefined || !(1 - then / Math.sqrt(now) >= least))
    return { kind: 'enough', now: Math.sqrt(now) };
  return { kind: 'setting', resistanceOhm: Number(best.ohm.toPrecision(4)), now: Math.sqrt(now), then };
}

/** Within what was measured, and not where a reading already lies. */
function candidatesOf({ model: { measuredFromOhm, measuredToOhm, settingsOhm } }: GaugeCurve): number[] {
  const from = Math.max(measuredFromOhm, measuredToOhm / 1000);
  return Array.from({ length: PLACES + 1 }, (_, k) => from * (measuredToOhm / from) ** (k / PLACES)).filter(
    (ohm) => settingsOhm.every((one) => one <= 0 || Math.abs(Math.log(ohm / one)) > Math.log(CLOSEST_RATIO)),
  );
}
