import type { Refusal } from '../../refusal';
import { effectiveFreedom, pooledVariance } from '../readings/fit-context';
import type { FitContext, RawFit } from '../readings/fit-context';
import { fitInterpolant } from '../spline/fit-interpolant';
import { fitShape } from '../laws/fit-shape';
import type { ShapeModel } from '../laws/fit-shape';
import { fitSpline } from '../spline/fit-spline';
import { printedParameters } from '../laws/shape-law';
import { shapes } from '../laws/shapes';
import type { LawCandidate, LawModel, LawName, NamedParameter } from '../types';

/** A law with everything that the choice needs. */
export type Contender = {
  readonly name: LawName;
  readonly fit: RawFit<LawModel>;
  readonly variance: number;
  readonly degreesOfFreedom: number;
  readonly aicc: number;
  /** Independent readings left over by the parameters. */
  readonly spare: number;
};

export type Contest = {
  readonly contenders: readonly Contender[];
  readonly refused: readonly { readonly name: LawName; readonly refusal: Refusal }[];
};

/**
 * A law this much worse than the free spline, or than the curve through every setting where each was read more than once,
 * is contradicted: odds of about 20 to 1.
 */
const CONTRADICTED_BY = 6;
/** Where a reading may be called a lie the correction is to grow, up to this many readings to spare. */
const LEAST_SPARE = 0.5;
/** A spline that goes through every reading contradicts nothing. */
const CONTRADICTOR_SPARE = 2;
/**
 * Weights are drawn out by this factor: with a dozen or two readings the criterion itself scatters by a few units, and a
 * law that is three worse is not yet out of the running. Found by simulation: 1 covers too little, 2 and more too much.
 */
const TEMPER = 1.5;
/** Differences below this part of the largest weight do not matter. */
const LEAST_WEIGHT = 1e-3;

/** Fits every law to the same readings. Source: the laws in `shapes`, the spline and the interpolant. */
export function contest(context: FitContext, half: number, warm: readonly Contender[] = []): Contest {
  const fits: { name: LawName; fit: RawFit<LawModel> | Refusal }[] = [
    ...shapes.map((shape) => ({
      name: shape.name,
      fit: fitShape(shape, context, warmStart(warm, shape.name)),
    })),
    { name: 'monotone-spline', fit: fitSpline(context) },
    { name: 'interpolant', fit: fitInterpolant(context, half) },
  ];
  const contenders: Contender[] = [];
  const refused: Contest['refused'][number][] = [];
  for (const { name, fit } of fits)
    if (fit.kind === 'refused') refused.push({ name, refusal: fit });
    else contenders.push(contenderOf(name, fit, context));
  return { contenders, refused };
}

function warmStart(warm: readonly Contender[], name: LawName): readonly number[] | undefined {
  const model = warm.find((one) => one.name === name)?.fit.model;
  return model?.form === 'shape' ? model.parameters.slice(2) : undefined;
}

function contenderOf(name: LawName, fit: RawFit<LawModel>, context: FitContext): Contender {
  const { variance, degreesOfFreedom } = pooledVariance(fit, context);
  const { count, freedom } = effectiveFreedom(fit.freedom, context);
  return {
    name,
    fit,
    variance,
    degreesOfFreedom,
    aicc: correctedCriterion(fit, context),
    spare: count - freedom,
  };
}

/**
 * Akaike's criterion with its small-sample correction, on the likelihood that includes the expected scatter; that
 * expectation counts as so many readings, which keeps it defined for three. `lies` are readings left out of
 * the fit, among so many independent ones: each is followed exactly by a parameter of its own (mean-shift model, Cook and
 * Weisberg 1982, 2.2.2, from memory).
 * Source: Hurvich and Tsai (1989), Biometrika 76, 297-307; the prior as in `pooledVariance`.
 */
export function correctedCriterion(
  fit: Pick<RawFit<LawModel>, 'freedom' | 'sumOfSquares'>,
  context: FitContext,
  lies?: { readonly count: number; readonly among: number },
): number {
  const { expectedScatter, expectationWeight } = context.observations;
  const effective = effectiveFreedom(fit.freedom, context);
  const count = (lies?.among ?? effective.count) + expectationWeight;
  const sum = expectationWeight * expectedScatter ** 2 + fit.sumOfSquares;
  // One more for the scatter itself.
  const parameters = effective.freedom + (lies?.count ?? 0) + 1;
  // With next to nothing to spare the correction would grow without bound and decide by itself.
  const least = lies === undefined ? parameters + 1 : LEAST_SPARE;
  const spare = Math.max(count - parameters - 1, least);
  return count * Math.log(sum / count) + 2 * parameters + (2 * parameters * (parameters + 1)) / spare;
}

export type Choice = {
  readonly chosen: Contender;
  readonly weights: ReadonlyMap<LawName, number>;
  readonly report: readonly LawCandidate[];
  readonly isForced: boolean;
  /** The residuals speak against every law of coils and bimetals: a program moves the needle, or something worn. */
  readonly isEverySmoothLawContradicted: boolean;
};

/**
 * Chooses the law: the lowest criterion among those that the residuals do not contradict, or the forced one.
 * Source: Burnham and Anderson, Model Selection and Multimodel Inference (2002), sections 2.4 and 2.9 (from memory).
 */
export function choose({ contenders, refused }: Contest, forced?: LawName): Choice | undefined {
  const spline = contenders.find((one) => one.name === 'monotone-spline' && one.spare >= CONTRADICTOR_SPARE);
  const follower = lowest(contenders.filter((one) => one.name === 'interpolant' || one === spline));
  const isContradicted = (one: Contender): boolean =>
    follower !== undefined && one.aicc - follower.aicc > CONTRADICTED_BY;
  const electable = contenders.filter((one) => one.name !== 'interpolant' && !isContradicted(one));
  // With next to nothing to spare the spline is kept for the spread between laws, not for the law.
  const best =
    lowest(electable.filter((one) => one.name !== 'monotone-spline' || one === spline)) ??
    lowest(electable) ??
    lowest(contenders);
  const chosen = forced === undefined ? best : contenders.find((one) => one.name === forced);
  if (chosen === undefined || best === undefined) return undefined;
  const weights = akaikeWeights(electable.length > 0 ? electable : [best], best);
  return {
    chosen,
    weights,
    isForced: forced !== undefined,
    isEverySmoothLawContradicted: contenders.filter(isSmooth).every(isContradicted),
    report: [
      ...contenders.map((one): LawCandidate => ({
        kind: 'fit',
        name: one.name,
        parameters: namedParameters(one),
        residualStandardDeviation: Math.sqrt(one.variance),
        freedom: one.fit.freedom,
        aicc: one.aicc,
        margin: one.aicc - best.aicc,
        weight: weights.get(one.name) ?? 0,
        contradictedBy: isContradicted(one) ? one.aicc - follower!.aicc : undefined,
      })),
      ...refused.map(({ name, refusal }): LawCandidate => ({ ...refusal, name })),
    ],
  };
}

const isSmooth = ({ name }: Contender): boolean => name !== 'monotone-spline' && name !== 'interpolant';

const lowest = (contenders: readonly Contender[]): Contender | undefined =>
  contenders.reduce<Contender | undefined>(
    (best, one) => (best === undefined || one.aicc < best.aicc ? one : best),
    undefined,
  );

function akaikeWeights(contenders: readonly Contender[], best: Contender): Map<LawName, number> {
  const raw = contenders
    .map((one) => ({ name: one.name, weight: Math.exp((best.aicc - one.aicc) / (2 * TEMPER)) }))
    .filter(({ weight }) => weight > LEAST_WEIGHT);
  const total = raw.reduce((sum, { weight }) => sum + weight, 0);
  return new Map(raw.map(({ name, weight }) => [name, weight / total]));
}

/** The parameters of a law as its formula prints them, with standard uncertainties. Source: GUM 5.2.2 equation (13). */
export function namedParameters({ fit, variance }: Contender): NamedParameter[] {
  const { model } = fit;
  if (model.form !== 'shape') return [];
  const printed = printedParameters(model.name, model.anchorsOhm, model.parameters);
  const gradients = model.parameters.map((_, j) => printedSlopes(model, j));
  return printed.map(({ name, unit, value }, k) => {
    let sum = 0;
    model.covariance.forEach((row, i) =>
      row.forEach((entry, j) => (sum += entry * gradients[i]![k]! * gradients[j]![k]!)),
    );
    const isHeld = !(sum > 0);
    return { name, unit, value, standardUncertainty: isHeld ? undefined : Math.sqrt(sum * variance) };
  });
}

/** Central differences: the printed form is smooth in the fitted one and needs four digits at most. */
function printedSlopes(model: ShapeModel, j: number): number[] {
  const size = Math.abs(model.parameters[j]!) + Math.abs(model.parameters[1]! - model.parameters[0]!) * 1e-3;
  const step = 1e-5 * (j < 2 ? size : Math.max(Math.abs(model.parameters[j]!), 1e-2));
  const at = (sign: number): number[] =>
    printedParameters(
      model.name,
      model.anchorsOhm,
      model.parameters.map((value, i) => (i === j ? value + sign * step : value)),
    ).map(({ value }) => value);
  const low = at(-1);
  return at(1).map((value, k) => (value - low[k]!) / (2 * step));
}

/** The model of a contender with its covariance in dial units. Source: variance times the inverse normal matrix. */
export const scaledModel = ({ fit, variance }: Contender): LawModel => ({
  ...fit.model,
  covariance: fit.model.covariance.map((row) => row.map((entry) => entry * variance)),
});
