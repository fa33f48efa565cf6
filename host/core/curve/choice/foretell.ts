import type { FitContext } from '../readings/fit-context';
import { whiteningOf } from '../readings/whitening';
import { lawReading } from '../laws/law-model';
import { fitInterpolant } from '../spline/fit-interpolant';
import { fitSpline } from '../spline/fit-spline';

/** A long sweep is left out in so many shares. */
const MOST_SHARES = 12;
/** The spline smooths; where it foretells no better than this part of the interpolant's misses, the readings stand as they are. */
const CLEARLY_BETTER = 0.7;

/**
 * Whether the spline foretells the settings left out, in turn, better than the interpolant does: then what it smooths
 * away is scatter and not shape. The ends are never left out.
 * Source: cross-validation, Stone (1974), J. R. Statist. Soc. B 36, 111-147 (from memory).
 */
export function foretellsBetter(context: FitContext, half: number): boolean {
  const { fitted } = context.observations;
  const settings = [...new Set(fitted.map((row) => row.setting))].slice(1, -1);
  const shares = Math.min(settings.length, MOST_SHARES);
  let [bySpline, byInterpolant] = [0, 0];
  for (let share = 0; share < shares; share += 1) {
    const left = new Set(settings.filter((_, i) => i % shares === share));
    const rest = without(context, left, half);
    const [spline, interpolant] = [fitSpline(rest), fitInterpolant(rest, half)];
    if (spline.kind === 'refused' || interpolant.kind === 'refused') return false;
    fitted.forEach((row, i) => {
      if (!left.has(row.setting)) return;
      const seen = row.reading - half * row.legSign;
      bySpline += context.weights[i]! * (lawReading(spline.model, row.ohm) - seen) ** 2;
      byInterpolant += context.weights[i]! * (lawReading(interpolant.model, row.ohm) - seen) ** 2;
    });
  }
  return bySpline < CLEARLY_BETTER ** 2 * byInterpolant;
}

function without(context: FitContext, left: ReadonlySet<number>, half: number): FitContext {
  const isKept = context.observations.fitted.map((row) => !left.has(row.setting));
  const observations = {
    ...context.observations,
    fitted: context.observations.fitted.filter((_, i) => isKept[i]),
  };
  return {
    ...context,
    observations,
    weights: context.weights.filter((_, i) => isKept[i]),
    whitening: whiteningOf(observations, half),
  };
}
