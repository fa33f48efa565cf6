import { person, placeOf } from '../../dial';
import { BOX_OHMS } from '../../ohmmeter';
import { namedParameters, scaledModel } from '../choice/candidates';
import type { Choice } from '../choice/candidates';
import type { FitContext } from '../readings/fit-context';
import { UNSEEN_HALF_PART, hysteresisOf, repeatabilityOf } from '../readings/hysteresis';
import { lawReading } from '../laws/law-model';
import { reachPoints } from '../../numeric/monotone-reach';
import { logAxis } from '../readings/log-axis';
import { legsFinding, oddHalf } from './legs-finding';
import { markOf } from './marks';
import type { Observations, Row } from '../readings/observations';
import type { Settled } from '../choice/settle';
import { settingsOf } from '../readings/settings';
import { stopReports } from './stop-reports';
import { supplyOf } from '../readings/supply-effect';
import type {
  CurveModel,
  CurveOptions,
  CurvePoint,
  GaugeCurve,
  GaugeReading,
  LawModel,
  LegsFinding,
  PlateauReport,
  StopReport,
} from '../types';
import {
  shownCandidates,
  shownHysteresis,
  shownParameters,
  shownPlateaus,
  shownPoints,
  shownRepeatability,
  shownAt,
} from './dial-units';
import { curveWarnings } from './warnings';

/** What is shared when a mark is sought: anywhere within "on it", rectangular. */
const SOUGHT_BIAS = person.onMarkPart / Math.sqrt(3);
/** Beside the parallax of `person` all readings may be off alike by a tenth of a reading step, rectangular (common practice, no source). */
const BIAS_STEPS = 0.1 / Math.sqrt(3);
/** Beyond the outermost readings the needle is followed by this part of the span when no stop is known. */
const OVERTRAVEL_PART = 0.1;
const COVERAGE = 0.95;
/** Resistance that is an open circuit to every gauge. */
const OPEN_OHM = 1e9;

export type Parts = Settled & {
  readonly choice: Choice;
  readonly plateaus: readonly PlateauReport[];
  readonly inferred: ReadonlySet<number>;
};

/** The result, for people and for evaluation, from a settled fit. Source: the parts named in it. */
export function assembled(
  readings: readonly GaugeReading[],
  options: CurveOptions,
  parts: Parts,
): GaugeCurve {
  const { context, choice, inferred } = parts;
  const { observations } = context;
  const { dial } = options;
  const { chosen } = choice;
  const { fitted } = observations;
  const between = { fromOhm: fitted[0]!.ohm, toOhm: fitted.at(-1)!.ohm };
  const stops = stopReports(observations.bounds, inferred, chosen.fit.model, between);
  const legs = legsFinding(readings, options, context);
  const model = modelOf(readings, options, { ...parts, stops, legs });
  const half = { value: chosen.fit.half, uncertainty: Math.sqrt(chosen.fit.halfInverse * chosen.variance) };
  const curve: Omit<GaugeCurve, 'marks' | 'warnings'> = {
    kind: 'curve',
    schema: 1,
    quantity: options.quantity ?? 'other',
    unit: options.unit ?? '',
    law: {
      name: chosen.name,
      parameters: shownParameters(dial, namedParameters(chosen)),
      forced: options.law !== undefined,
    },
    candidates: shownCandidates(dial, choice.report),
    points: shownPoints(dial, readings, pointsOf(readings, parts, model.chosen)),
    legs,
    hysteresis: shownHysteresis(dial, hysteresisOf(believed(context), context.axis, observations.span, half)),
    repeatability: shownRepeatability(
      dial,
      repeatabilityOf(believed(context), context.whitening, {
        standardDeviation: Math.sqrt(chosen.variance),
        degreesOfFreedom: Math.max(0, fitted.length - chosen.fit.freedom),
        expected: observations.expectedScatter,
      }),
    ),
    plateaus: shownPlateaus(dial, parts.plateaus),
    stops: shownAt(dial, stops),
    model,
  };
  const wanted =
    options.marks ?? [...new Set(fitted.map((row) => readings[row.index]!.reading))].sort((a, b) => a - b);
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
    legs,
  }: Parts & { readonly stops: readonly StopReport[]; readonly legs: LegsFinding },
): CurveModel {
  const { observations } = context;
  const { chosen } = choice;
  const chosenModel = scaledModel(chosen);
  const { fitted, span, step } = observations;
  const ends = [fitted[0]!.ohm, fitted.at(-1)!.ohm].map((ohm) => lawReading(chosenModel, ohm));
  const lowStop = stops.find((stop) => stop.side === 'low')?.reading;
  const highStop = stops.find((stop) => stop.side === 'high')?.reading;
  const { scale, marks = [], dial } = options;
  const soughtShare = fitted.filter((row) => readings[row.index]!.isSought === true).length / fitted.length;
  const biasPart = Math.hypot(person.parallaxPart, SOUGHT_BIAS * soughtShare);
  const named = [...(scale === undefined ? [] : [scale.lowest, scale.highest]), ...marks];
  const places = [...ends, ...named.map((reading) => placeOf(dial, reading))];

  const restReading = lawReading(chosenModel, OPEN_OHM);
  const supply = supplyOf(readings, pointsOf(readings, { context, choice }, chosenModel), restReading);
  return {
    dial,
    readingStep: options.readingStep,
    mechanism: options.mechanism,
    chosen: chosenModel,
    mixture: contenders.flatMap((one) => {
      const weight = choice.weights.get(one.name) ?? 0;
      return weight > 0 ? [{ model: scaledModel(one), weight }] : [];
    }),
    risesWithResistance: observations.risesWithResistance,
    measuredFromOhm: fitted[0]!.ohm,
    measuredToOhm: fitted.at(-1)!.ohm,
    settingsOhm: [...new Set(believed(context).map((row) => row.ohm))].sort((one, other) => one - other),
    span,
    lowestReading: lowStop ?? Math.min(...places) - OVERTRAVEL_PART * span,
    highestReading: highStop ?? Math.max(...places) + OVERTRAVEL_PART * span,
    lowStopReading: lowStop,
    highStopReading: highStop,
    fitDegreesOfFreedom: chosen.degreesOfFreedom,
    readingStandardDeviation: Math.sqrt(chosen.variance),
    hysteresisHalf: chosen.fit.half,
    unseenHysteresisHalf: unseenHalf(observations),
    oddHysteresisHalf: oddHalf(legs, span),
    readingBias: Math.hypot(BIAS_STEPS * Math.min(step, span / 20), biasPart * observations.arc),
    resistanceUncertainty: options.resistanceUncertainty ?? BOX_OHMS,
    supplyRelativeUncertainty: supply.relativeUncertainty,
    supplyExponent: supply.exponent,
    restReading,
    plateaus,
    ...reachOf(restPart(options.mechanism, choice), context, chosen.fit.half),
    coverage: options.coverage ?? COVERAGE,
  };
}

/** Where the odds are smaller that no smooth law holds, nothing comes of them. */
const LEAST_REST_PART = 0.02;

/**
 * How likely it is that between two settings the needle follows no smooth law: certain where it is known that a program
 * moves it or every law is contradicted, unlikely where somebody named a coil or a bimetal, else as the weights say.
 */
function restPart(mechanism: CurveOptions['mechanism'], choice: Choice): number {
  if (mechanism === 'electronic' || choice.isEverySmoothLawContradicted) return 1;
  if (mechanism !== undefined && mechanism !== 'unknown') return 0;
  const part = choice.weights.get('monotone-spline') ?? 0;
  return part < LEAST_REST_PART ? 0 : part;
}

/** The settings as the needle's way between them is bounded; questioned readings bound nothing. */
function reachOf(
  part: number,
  context: FitContext,
  half: number,
): Pick<CurveModel, 'reach' | 'reachOffsetOhm' | 'reachPart'> {
  const axis = logAxis(context.observations.fitted.map((row) => row.ohm));
  const settings = part === 0 ? [] : settingsOf(believed(context), half, axis);
  return {
    reachPart: part,
    reach: reachPoints(settings.map(({ position, reading, count }) => ({ x: position, y: reading, count }))),
    reachOffsetOhm: axis.offsetOhm,
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
  const struck = new Map(observations.struck.map((row) => [row.index, row]));
  const bounds = new Map(observations.bounds.map((row) => [row.index, row.reading]));
  return readings.map((one, index) => {
    const i = place.get(index);
    const fitted = lawReading(model, one.resistanceOhm);
    const lie = struck.get(index);
    if (lie !== undefined)
      return {
        ...one,
        fitted,
        residual: lie.reading - fitted - fit.half * lie.legSign,
        weight: 0,
        role: 'questioned',
      };
    if (i === undefined)
      return { ...one, fitted, residual: (bounds.get(index) ?? fitted) - fitted, weight: 0, role: 'bound' };
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
