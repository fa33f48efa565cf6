import type { GaugeCurve, LawName } from '../core/curve/types';
import { isWhereItMatters } from '../core/proof/limits';
import { scaleOf } from '../job/schema/scale';
import { doubtfulSetting } from '../job/state/doubtful-setting';
import type { Findings } from '../job/findings';
import type { CurveKnown } from './answer';
import type { FittedFacts } from './headline';
import type { JobState } from '../job/state/state';
import { openSweep } from '../job/state/views';

/** An end of the scale that is known not much worse than the rest needs no sentence of its own. */
const MUCH_WORSE = 1.5;

/**
 * How well the curve is known where it matters: from the middle of the scale to the dangerous end. A cold end that nobody
 * drives by is no headline, but it is said. Where no mark that matters was measured, the worst of the others counts.
 */
export function knownTo(curve: GaugeCurve, gauge: JobState['gauge']): CurveKnown | undefined {
  const known = curve.marks
    .filter((mark) => mark.note === 'measured' || mark.note === 'between')
    .map(({ reading, coverageFactor, budget }) => ({
      at: reading,
      size: coverageFactor * Math.hypot(...budget.map((line) => line.readingUncertainty)),
    }))
    .filter(({ size }) => Number.isFinite(size))
    .sort((one, other) => other.size - one.size);
  const scale = { quantity: gauge.quantity, ...scaleOf(gauge.marks) };
  const [worst] = known;
  if (worst === undefined) return undefined;
  const mattering = known.filter(({ at }) => isWhereItMatters(scale, at));
  const [most] = mattering;
  if (most === undefined || worst.size <= MUCH_WORSE * most.size) return { size: worst.size };
  const places = mattering.map(({ at }) => at);
  return { size: most.size, range: { from: Math.min(...places), to: Math.max(...places) }, worst };
}

/** What the headlines cannot know without the fit; of a sweep that goes on nothing is doubted yet. */
export function curveFacts(findings: Findings | undefined, state: JobState | undefined): FittedFacts {
  const curve = findings?.curve?.curve;
  if (curve?.kind !== 'curve' || state === undefined) return {};
  const known = knownTo(curve, state.gauge);
  const doubtful = openSweep(state) === undefined ? doubtfulSetting(curve, state.gauge.marks) : undefined;
  return {
    ...(known === undefined ? {} : { curveKnown: known }),
    ...(doubtful === undefined ? {} : { doubtful }),
  };
}

const MECHANISM_LAWS: Readonly<Partial<Record<LawName, string>>> = {
  ratio: 'ratio law',
  'two-coil': 'two-coil law',
  thermal: 'thermal law',
  'cross-coil': 'cross-coil law',
};
/** Told apart: the others together have less than one chance in twenty. Source: Akaike weights. */
const DECIDED_WEIGHT = 0.95;

/**
 * The law of the curve in words. A law names what is inside the gauge, so none is named before the sweep is over and the
 * law is told apart from the others, or is the one that somebody said the gauge has.
 */
export function lawWords(curve: GaugeCurve, state: JobState): string {
  const { name, forced } = curve.law;
  const words = MECHANISM_LAWS[name];
  if (openSweep(state) !== undefined) return 'Too early to say what law it follows';
  if (words === undefined)
    return name === 'interpolant' ? 'A curve through the readings' : 'A smooth curve through the readings';
  const chosen = curve.candidates.find((each) => each.name === name);
  const isTold = chosen?.kind === 'fit' && chosen.weight >= DECIDED_WEIGHT;
  return forced || isTold || name === state.gauge.mechanism
    ? `Fitted: ${words}`
    : 'What law it follows is not decided';
}
