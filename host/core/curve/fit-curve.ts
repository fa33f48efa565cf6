import { refuse } from '../refusal';
import type { Refusal } from '../refusal';
import { assembled } from './report/assemble';
import type { Choice, Contest } from './choice/candidates';
import type { FitContext } from './readings/fit-context';
import { withoutLies } from './choice/lies';
import { observationsOf } from './readings/observations';
import type { Observations } from './readings/observations';
import type { Plateau } from './readings/plateaus';
import { plateausOf, preparedContext, withUnmarkedStops } from './readings/prepare';
import { settledContest } from './choice/settle';
import type { Settled } from './choice/settle';
import type { CurveOptions, CurveRefusalCode, GaugeCurve, GaugeReading } from './types';

/**
 * Fits the curve of a gauge: law, uncertainty at every mark, hysteresis, repeatability, plateaus and stops.
 * Source: the laws of `shapes`; the parts are described where they are computed.
 * Refuses: see `observationsOf`, and CURVE_LAW_IMPOSSIBLE when the law asked for cannot be fitted.
 */
export function fitCurve(
  readings: readonly GaugeReading[],
  options: CurveOptions = {},
): GaugeCurve | Refusal<CurveRefusalCode> {
  const first = fitOnce(readings, options);
  if (first.kind === 'refused' || !first.isStepDoubtful)
    return first.kind === 'refused' ? first : first.curve;
  const again = fitOnce(readings, { ...options, readingStep: 0 });
  return again.kind === 'refused' ? again : again.curve;
}

type Fitted = { readonly kind: 'fitted'; readonly curve: GaugeCurve; readonly isStepDoubtful: boolean };

function fitOnce(
  readings: readonly GaugeReading[],
  options: CurveOptions,
): Fitted | Refusal<CurveRefusalCode> {
  const given = observationsOf(readings, options);
  if (given.kind === 'refused') return given;
  const { observations: stopped, inferred } = withUnmarkedStops(given);
  const observations = withoutLies(stopped);
  const { plateaus, ...settled } = withOrWithoutPlateaus(observations, options);
  const { choice } = settled;
  if (choice === undefined) return lawImpossible(settled.contest, options);
  const parts = { ...settled, choice, plateaus: plateaus.map(({ report }) => report), inferred };
  return {
    kind: 'fitted',
    curve: assembled(readings, options, parts),
    isStepDoubtful: options.readingStep === undefined && isTooSmooth(settled.context, choice),
  };
}

/**
 * Readings that lie far closer to a law than rounding to their common step would let them were not rounded: the needle
 * was walked onto marks, and the marks are the step.
 */
function isTooSmooth({ observations: { step } }: FitContext, { chosen }: Choice): boolean {
  const rounding = (step * step) / 12;
  const most = chosen.spare < 6 ? 0.01 : 0.12;
  return chosen.spare >= 3 && chosen.fit.sumOfSquares < most * rounding * chosen.spare;
}

function lawImpossible({ refused }: Contest, { law }: CurveOptions): Refusal<'CURVE_LAW_IMPOSSIBLE'> {
  const why = refused.find((one) => one.name === law)?.refusal.slots ?? {};
  return refuse('CURVE_LAW_IMPOSSIBLE', {
    ...(law === undefined ? {} : { law }),
    ...('knotCount' in why ? { knotCount: why.knotCount } : {}),
  });
}

/** A dead zone is believed when the readings, too, are followed better with it than without. */
function withOrWithoutPlateaus(
  observations: Observations,
  options: CurveOptions,
): Settled & { readonly plateaus: readonly Plateau[] } {
  const settle = (plateaus: readonly Plateau[]) => ({
    plateaus,
    ...settledContest(preparedContext(observations, plateaus), options),
  });
  const without = settle([]);
  const found = plateausOf(observations, without.choice?.chosen.fit.half ?? 0);
  if (found.length === 0) return without;
  const withThem = settle(found);
  const best = ({ contest: { contenders } }: Settled): number =>
    Math.min(...contenders.map((one) => one.aicc));
  return best(withThem) < best(without) ? withThem : without;
}
