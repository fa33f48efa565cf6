import { refuse } from '../refusal';
import type { Refusal } from '../refusal';
import { assembled } from './report/assemble';
import type { Choice, Contest } from './choice/candidates';
import type { FitContext } from './readings/fit-context';
import { withoutLies } from './choice/lies';
import { lawSlope } from './laws/law-model';
import { observationsOf } from './readings/observations';
import type { Observations } from './readings/observations';
import type { Plateau } from './readings/plateaus';
import { plateausOf, preparedContext, withUnmarkedStops } from './readings/prepare';
import { atVolts, withoutConfoundedLegs } from './readings/at-volts';
import { readingStepOf } from './readings/reading-step';
import { withSupply } from './report/supply-finding';
import { supplyLawOf } from './choice/supply-law';
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
  const legless = withoutConfoundedLegs(readings);
  const supply = supplyLawOf(legless, options);
  if (supply === undefined) return fitted(readings, options);
  const referenceVolt = options.supplyVolt ?? supply.meanVolt;
  const taken = atVolts(legless, supply, { dial: options.dial, referenceVolt });
  const readingStep = options.readingStep ?? readingStepOf(readings.map((one) => one.reading));
  const free = readings.filter((one) => one.atStop === undefined).map((one) => one.reading);
  const marks = options.marks ?? [...new Set(free)].sort((a, b) => a - b);
  const curve = fitted(taken, { ...options, readingStep, marks });
  return curve.kind === 'refused' ? curve : withSupply(curve, readings, { supply, referenceVolt });
}

function fitted(
  readings: readonly GaugeReading[],
  options: CurveOptions,
): GaugeCurve | Refusal<CurveRefusalCode> {
  const first = fitOnce(readings, options);
  if (first.kind === 'refused') return first;
  const ownScatter = scatterOfOhms(readings, first.curve);
  if (!first.isStepDoubtful && ownScatter === undefined) return first.curve;
  const again = fitOnce(
    readings,
    first.isStepDoubtful ? { ...options, readingStep: 0 } : options,
    ownScatter,
  );
  return again.kind === 'refused' ? again : again.curve;
}

/**
 * What the readings scatter by for what is not known of their own resistances: undefined where all are known.
 * Source: effective variance, an error of the argument through the slope (Orear 1982, Am. J. Phys. 50, 912, from memory).
 */
function scatterOfOhms(
  readings: readonly GaugeReading[],
  { model }: GaugeCurve,
): readonly number[] | undefined {
  const scatter = readings.map(({ resistanceOhm, resistanceUncertaintyOhm = 0 }) =>
    resistanceUncertaintyOhm > 0
      ? Math.abs(lawSlope(model.chosen, resistanceOhm)) * resistanceUncertaintyOhm
      : 0,
  );
  const isKnown = scatter.every((each) => each === 0 || !Number.isFinite(each));
  return isKnown ? undefined : scatter.map((each) => (Number.isFinite(each) ? each : 0));
}

type Fitted = { readonly kind: 'fitted'; readonly curve: GaugeCurve; readonly isStepDoubtful: boolean };

function fitOnce(
  readings: readonly GaugeReading[],
  options: CurveOptions,
  ownScatter: readonly number[] = [],
): Fitted | Refusal<CurveRefusalCode> {
  const given = observationsOf(readings, options, ownScatter);
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
