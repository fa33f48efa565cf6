import type { GaugeCurve, LawName } from '../core/curve/types';
import { doubtfulSetting } from '../job/state/doubtful-setting';
import type { Findings } from '../job/findings';
import type { FittedFacts } from './headline';
import type { JobState } from '../job/state/state';
import { openSweep } from '../job/state/views';

/** How well the curve is known where the person looks, at its worst mark within what was measured, in dial units; 95 %. */
export function knownTo(curve: GaugeCurve): number | undefined {
  const known = curve.marks
    .filter((mark) => mark.note === 'measured' || mark.note === 'between')
    .map((mark) => mark.coverageFactor * Math.hypot(...mark.budget.map((line) => line.readingUncertainty)))
    .filter((each) => Number.isFinite(each));
  return known.length === 0 ? undefined : Math.max(...known);
}

/** What the headlines cannot know without the fit; of a sweep that goes on nothing is doubted yet. */
export function curveFacts(findings: Findings | undefined, state: JobState | undefined): FittedFacts {
  const curve = findings?.curve?.curve;
  if (curve?.kind !== 'curve' || state === undefined) return {};
  const known = knownTo(curve);
  const doubtful = openSweep(state) === undefined ? doubtfulSetting(curve, state.gauge.marks) : undefined;
  return {
    ...(known === undefined ? {} : { curveExpandedUncertainty: known }),
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
