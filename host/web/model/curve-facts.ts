import type { GaugeCurve } from '../../core/curve/types';
import type { Findings } from '../../job/findings';
import type { FittedFacts } from '../../job/headlines';

/** How well the curve is known where the person looks, at its worst mark within what was measured, in dial units; 95 %. */
export function knownTo(curve: GaugeCurve): number | undefined {
  const known = curve.marks
    .filter((mark) => mark.note === 'measured' || mark.note === 'between')
    .map((mark) => mark.coverageFactor * Math.hypot(...mark.budget.map((line) => line.readingUncertainty)))
    .filter((each) => Number.isFinite(each));
  return known.length === 0 ? undefined : Math.max(...known);
}

/** What the headlines cannot know without the fit. */
export function curveFacts(findings: Findings | undefined): FittedFacts {
  const curve = findings?.curve?.curve;
  const known = curve?.kind === 'curve' ? knownTo(curve) : undefined;
  return known === undefined ? {} : { curveExpandedUncertainty: known };
}
