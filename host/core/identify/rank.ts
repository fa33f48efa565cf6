import { exceedsChance } from '../numeric/chi-squared';
import { type Refusal, refuse } from '../refusal';
import type { KnownCurve, Observation } from './known-curve';
import { type Misfit, misfitOf } from './misfit';
import { bestNextPlace, type NextPlace } from './next-place';

/** A curve of the catalogue with how well it explains what was seen. */
export type RankedCurve = {
  readonly id: string;
  readonly chiSquared: number;
  readonly pointCount: number;
  /** Share among the listed curves, each as likely as the next beforehand. */
  readonly probability: number;
  /** The points lie further off than their uncertainties and the family's tolerance allow, by 99.9 %. */
  readonly isContradicted: boolean;
  /** Points beyond the range in which this curve is known. */
  readonly extrapolatedCount: number;
  /** Shift common to all points: share of resistance for senders, dial units for gauges. */
  readonly sharedShift: number;
};

export type Identification = {
  readonly kind: 'identification';
  /** Best first. */
  readonly ranking: readonly RankedCurve[];
  /** Odds of the first against the second; null with one curve only. */
  readonly odds: number | null;
  /** `clear`: 20 to 1 or better and not contradicted; `open`: several remain; `none`: even the best is contradicted. */
  readonly verdict: 'clear' | 'open' | 'none';
  /** The one further measurement that would separate the first two best; null with one curve only. */
  readonly next: NextPlace | null;
};

/** Odds at which one name is given instead of several. Common practice, no source (the usual 95 %). */
const CLEAR_ODDS = 20;
const LARGEST_ODDS = 1e12;
const MOST_CURVES = 100_000;

/**
 * Which of the known curves the observations belong to.
 * Source: likelihood ratio of normal errors, see `misfitOf`. Refuses: IDENTIFY_NO_POINTS, IDENTIFY_NO_CURVES,
 * IDENTIFY_TOO_MANY.
 */
export function rankCurves(
  observations: readonly Observation[],
  curves: readonly KnownCurve[],
): Identification | Refusal {
  if (observations.length === 0) return refuse('IDENTIFY_NO_POINTS', {});
  if (curves.length === 0) return refuse('IDENTIFY_NO_CURVES', {});
  if (curves.length > MOST_CURVES)
    return refuse('IDENTIFY_TOO_MANY', { curveCount: curves.length, most: MOST_CURVES });
  const judged = curves
    .map((curve) => ({ curve, misfit: misfitOf(curve, observations) }))
    .sort((one, other) => one.misfit.deviance - other.misfit.deviance);
  const [first, second] = judged;
  const best = first!.misfit.deviance;
  const total = judged.reduce((sum, { misfit }) => sum + Math.exp((best - misfit.deviance) / 2), 0);
  const ranking = judged.map(({ curve, misfit }) =>
    described(curve, misfit, { observations, probability: Math.exp((best - misfit.deviance) / 2) / total }),
  );
  const odds = second === undefined ? null : oddsOf(second.misfit.deviance - best);
  return {
    kind: 'identification',
    ranking,
    odds,
    verdict: verdictOf(ranking[0]!.isContradicted, odds),
    next: second === undefined ? null : bestNextPlace(first!.curve, second.curve, observations),
  };
}

function verdictOf(isBestContradicted: boolean, odds: number | null): Identification['verdict'] {
  if (isBestContradicted) return 'none';
  return odds === null || odds >= CLEAR_ODDS ? 'clear' : 'open';
}

const oddsOf = (devianceDifference: number): number =>
  Math.min(LARGEST_ODDS, Math.exp(devianceDifference / 2));

function described(
  curve: KnownCurve,
  misfit: Misfit,
  { observations, probability }: { observations: readonly Observation[]; probability: number },
): RankedCurve {
  return {
    id: curve.id,
    chiSquared: misfit.chiSquared,
    pointCount: observations.length,
    probability,
    isContradicted: exceedsChance(misfit.chiSquared, observations.length),
    extrapolatedCount: observations.filter(({ argument }) => argument < curve.from || argument > curve.to)
      .length,
    sharedShift: misfit.sharedShift,
  };
}
