import { refuse } from '../result';
import type { Refused } from '../result';
import { choose, contest, namedParameters, scaledModel } from './candidates';
import type { Choice, Contest } from './candidates';
import type { FitContext } from './fit-context';
import { fitShape } from './fit-shape';
import { fitSpline } from './fit-spline';
import { UNSEEN_HALF_PART, hysteresisOf, repeatabilityOf } from './hysteresis';
import { lawReading } from './law-model';
import { logAxis } from './log-axis';
import { markOf } from './marks';
import { observationsOf } from './observations';
import type { Observations, Row } from './observations';
import { findPlateaus } from './plateaus';
import type { Plateau } from './plateaus';
import { robustWeights, sameWeights } from './robust';
import { shapes } from './shapes';
import { settingsOf } from './settings';
import { stopReports, unmarkedStops } from './stops';
import { supplyOf } from './supply';
import type {
  CurveModel,
  CurveOptions,
  CurvePoint,
  CurveRefusalCode,
  GaugeCurve,
  GaugeReading,
  LawModel,
  LawName,
  LogAxis,
  PlateauReport,
  ResistanceUncertainty,
  StopReport,
} from './types';
import { curveWarnings } from './warnings';
import { pairedHalf, whiteningOf } from './whitening';

/** Box elements measured to a thousandth and contacts of some tens of milliohm (common practice, no source). */
const BOX: ResistanceUncertainty = { relative: 0.001, absoluteOhm: 0.03 };
/**
 * What a steady viewpoint may add to all readings alike: a tenth of a reading step (rectangular) and a thousandth of the
 * span (common practice, no source).
 */
const BIAS_STEPS = 0.1 / Math.sqrt(3);
const BIAS_PART = 0.001;
/** Beyond the outermost readings the needle is followed by this part of the span when no stop is known. */
const OVERTRAVEL_PART = 0.1;
const COVERAGE = 0.95;
const ROBUST_ROUNDS = 6;
/** Resistance that is an open circuit to every gauge. */
const OPEN_OHM = 1e9;

/**
 * Fits the curve of a gauge: law, uncertainty at every mark, hysteresis, repeatability, plateaus and stops.
 * Source: the laws of `shapes`; the parts are described where they are computed.
 * Refuses: see `observationsOf`, and CURVE_LAW_IMPOSSIBLE when the law asked for cannot be fitted.
 */
export function fitCurve(
  readings: readonly GaugeReading[],
  options: CurveOptions = {},
): GaugeCurve | Refused<CurveRefusalCode> {
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
): Fitted | Refused<CurveRefusalCode> {
  const given = observationsOf(readings, options);
  if (given.kind === 'refused') return given;
  const { observations, inferred } = withUnmarkedStops(given);
  const { plateaus, ...settled } = withOrWithoutPlateaus(observations, options);
  const { choice } = settled;
  if (choice === undefined)
    return refuse(
      'CURVE_LAW_IMPOSSIBLE',
      `The law ${options.law ?? 'asked for'} cannot be fitted to these readings: ${refusalOf(settled.contest, options)}`,
    );
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

const refusalOf = ({ refused }: Contest, { law }: CurveOptions): string =>
  refused.find((one) => one.name === law)?.refusal.message ?? 'give more readings.';

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

/** Turns resting ends that nobody marked into readings at a stop. */
function withUnmarkedStops(observations: Observations): {
  readonly observations: Observations;
  readonly inferred: ReadonlySet<number>;
} {
  const half = pairedHalf(observations.fitted);
  const settings = settingsOf(observations.fitted, half, logAxis(observations.fitted.map((row) => row.ohm)));
  const stops = unmarkedStops(settings, noiseOf(observations));
  const bound = new Map(
    stops.flatMap(({ side, rows }) =>
      rows.map((row) => [row.index, side === 'low' ? 'at most' : 'at least'] as const),
    ),
  );
  const rows = observations.rows.map((row) => ({ ...row, bound: bound.get(row.index) ?? row.bound }));
  return {
    observations: {
      ...observations,
      rows,
      fitted: rows.filter((row) => row.bound === 'none'),
      bounds: rows.filter((row) => row.bound !== 'none'),
    },
    inferred: new Set(bound.keys()),
  };
}

function plateausOf(observations: Observations, half: number): Plateau[] {
  const axis = logAxis(observations.fitted.map((row) => row.ohm));
  const settings = settingsOf(observations.fitted, half, axis);
  return findPlateaus(settings, axis, { ...noiseOf(observations), half: Math.abs(half) });
}

const noiseOf = (observations: Observations) => ({
  scatter: Math.max(
    observations.expectedScatter,
    Math.sqrt(whiteningOf(observations, pairedHalf(observations.fitted)).within.variance),
  ),
  step: observations.step,
  span: observations.span,
  rises: observations.risesWithResistance,
});

function preparedContext(observations: Observations, plateaus: readonly Plateau[]): FitContext {
  const half = pairedHalf(observations.fitted);
  return {
    observations,
    whitening: whiteningOf(observations, half),
    weights: observations.fitted.map(() => 1),
    hasHalf: observations.hasBothLegs,
    axis: logAxis(
      observations.fitted.map((row) => row.ohm),
      removedStretches(plateaus),
    ),
  };
}

/** Speeds multiply along the axis: each stretch is relative to what came before the first plateau. */
function removedStretches(plateaus: readonly Plateau[]): LogAxis['removed'] {
  let stretch = 1;
  return plateaus.map(({ report: { fromOhm, toOhm }, speedRatio }) => {
    stretch *= speedRatio;
    return { fromOhm, toOhm, stretch };
  });
}

type Settled = {
  readonly context: FitContext;
  readonly contest: Contest;
  readonly choice: Choice | undefined;
};

/**
 * Weights first by the free spline, so that a lie cannot choose the law; then by the chosen law, from full weights, so
 * that readings which only the spline doubted are believed again.
 */
function settledContest(context: FitContext, options: CurveOptions): Settled {
  const doubted = robustBySpline(context);
  const half = pairedHalf(context.observations.fitted);
  const first = contest(doubted, half);
  const choice = choose(first, options.law);
  if (choice === undefined) return { context: doubted, contest: first, choice };
  const here = robustByLaw(context, choice.chosen.name) ?? doubted;
  if (sameWeights(here.weights, doubted.weights)) return { context: doubted, contest: first, choice };
  const second = contest(here, choice.chosen.fit.half, first.contenders);
  return { context: here, contest: second, choice: choose(second, options.law) };
}

function robustByLaw(context: FitContext, name: LawName): FitContext | undefined {
  const shape = shapes.find((one) => one.name === name);
  if (shape === undefined) return undefined;
  let here = context;
  let warm: readonly number[] | undefined;
  for (let round = 0; round < ROBUST_ROUNDS; round += 1) {
    const fit = fitShape(shape, here, warm);
    if (fit.kind === 'refused') return undefined;
    const weights = robustWeights(fit.residuals, fit.freedom, here.observations);
    if (sameWeights(weights, here.weights)) return here;
    here = { ...here, weights };
    warm = fit.model.parameters.slice(2);
  }
  return here;
}

function robustBySpline(context: FitContext): FitContext {
  let here = context;
  for (let round = 0; round < ROBUST_ROUNDS; round += 1) {
    const fit = fitSpline(here);
    if (fit.kind === 'refused') return here;
    const weights = robustWeights(fit.residuals, fit.freedom, here.observations);
    if (sameWeights(weights, here.weights)) return here;
    here = { ...here, weights };
  }
  return here;
}

type Parts = Settled & {
  readonly choice: Choice;
  readonly plateaus: readonly PlateauReport[];
  readonly inferred: ReadonlySet<number>;
};

function assembled(readings: readonly GaugeReading[], options: CurveOptions, parts: Parts): GaugeCurve {
  const { context, choice, inferred } = parts;
  const { observations } = context;
  const { chosen } = choice;
  const { fitted } = observations;
  const between = { fromOhm: fitted[0]!.ohm, toOhm: fitted.at(-1)!.ohm };
  const stops = stopReports(observations.bounds, inferred, chosen.fit.model, between);
  const model = modelOf(readings, options, { ...parts, stops });
  const half = { value: chosen.fit.half, uncertainty: Math.sqrt(chosen.fit.halfInverse * chosen.variance) };
  const curve: Omit<GaugeCurve, 'marks' | 'warnings'> = {
    kind: 'curve',
    schema: 1,
    quantity: options.quantity ?? 'other',
    unit: options.unit ?? '',
    law: {
      name: chosen.name,
      parameters: namedParameters(chosen),
      forced: options.law !== undefined,
    },
    candidates: choice.report,
    points: pointsOf(readings, parts, model.chosen),
    hysteresis: hysteresisOf(believed(context), context.axis, observations.span, half),
    repeatability: repeatabilityOf(believed(context), context.whitening, {
      standardDeviation: Math.sqrt(chosen.variance),
      degreesOfFreedom: Math.max(0, fitted.length - chosen.fit.freedom),
      expected: observations.expectedScatter,
    }),
    plateaus: parts.plateaus,
    stops,
    model,
  };
  const wanted = options.marks ?? [...new Set(fitted.map((row) => row.reading))].sort((a, b) => a - b);
  const marks = wanted.flatMap((reading) => markOf(model, reading) ?? []);
  return { ...curve, marks, warnings: curveWarnings({ ...curve, marks }, wanted, choice) };
}

function modelOf(
  readings: readonly GaugeReading[],
  options: CurveOptions,
  {
    context,
    choice,
    contest: { contenders },
    stops,
    plateaus,
  }: Parts & { readonly stops: readonly StopReport[] },
): CurveModel {
  const { observations } = context;
  const { chosen } = choice;
  const chosenModel = scaledModel(chosen);
  const { fitted, span, step } = observations;
  const ends = [fitted[0]!.ohm, fitted.at(-1)!.ohm].map((ohm) => lawReading(chosenModel, ohm));
  const lowStop = stops.find((stop) => stop.side === 'low')?.reading;
  const highStop = stops.find((stop) => stop.side === 'high')?.reading;
  const lowest = Math.min(...ends, options.scale?.lowest ?? Infinity, ...(options.marks ?? []));
  const highest = Math.max(...ends, options.scale?.highest ?? -Infinity, ...(options.marks ?? []));
  const restReading = lawReading(chosenModel, OPEN_OHM);
  const supply = supplyOf(readings, pointsOf(readings, { context, choice }, chosenModel), restReading);
  return {
    chosen: chosenModel,
    mixture: contenders.flatMap((one) => {
      const weight = choice.weights.get(one.name) ?? 0;
      return weight > 0 ? [{ model: scaledModel(one), weight }] : [];
    }),
    risesWithResistance: observations.risesWithResistance,
    measuredFromOhm: fitted[0]!.ohm,
    measuredToOhm: fitted.at(-1)!.ohm,
    span,
    lowestReading: lowStop ?? lowest - OVERTRAVEL_PART * span,
    highestReading: highStop ?? highest + OVERTRAVEL_PART * span,
    lowStopReading: lowStop,
    highStopReading: highStop,
    fitDegreesOfFreedom: chosen.degreesOfFreedom,
    readingStandardDeviation: Math.sqrt(chosen.variance),
    hysteresisHalf: chosen.fit.half,
    unseenHysteresisHalf: unseenHalf(observations),
    readingBias: Math.hypot(BIAS_STEPS * Math.min(step, span / 20), BIAS_PART * span),
    resistanceUncertainty: options.resistanceUncertainty ?? BOX,
    supplyRelativeUncertainty: supply.relativeUncertainty,
    supplyExponent: supply.exponent,
    restReading,
    plateaus,
    coverage: options.coverage ?? COVERAGE,
  };
}

/** A reading that is questioned says nothing about hysteresis or repeatability. */
const believed = ({ observations, weights }: FitContext): Row[] =>
  observations.fitted.filter((_, i) => weights[i]! > 0.5);

/** One known leg leaves the whole lag unseen; readings of unknown legs show some of it as scatter. */
function unseenHalf({ fitted, hasBothLegs, span }: Observations): number {
  if (hasBothLegs) return 0;
  const isKnown = fitted.some((row) => row.legSign !== 0);
  return (isKnown ? UNSEEN_HALF_PART : UNSEEN_HALF_PART / 2) * span;
}

function pointsOf(
  readings: readonly GaugeReading[],
  { context, choice }: Pick<Parts, 'context' | 'choice'>,
  model: LawModel,
): CurvePoint[] {
  const { observations, weights } = context;
  const { fit } = choice.chosen;
  const place = new Map(observations.fitted.map((row, i) => [row.index, i]));
  return readings.map((one, index) => {
    const i = place.get(index);
    const fitted = lawReading(model, one.resistanceOhm);
    if (i === undefined) return { ...one, fitted, residual: one.reading - fitted, weight: 0, role: 'bound' };
    const weight = weights[i]!;
    return {
      ...one,
      fitted,
      residual: fit.residuals[i]!,
      weight,
      role: weight < 1 ? 'questioned' : 'fitted',
    };
  });
}
