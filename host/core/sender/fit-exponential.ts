import { curveProblem, leastSquares } from '../numeric/least-squares';
import { type Exponential, exponentialGradient, exponentialOhm } from './exponential';
import { quadraticForm } from '../numeric/matrix';
import type { LawFit } from './law-fit';
import { lawSlope } from './law';
import { weightedLinearFit } from '../numeric/linear-fit';
import type { LawPoint } from './points';

/** Passes of effective weighting: each changes the weights by the square of the relative uncertainty. */
const WEIGHT_PASSES = 4;

/**
 * Exponential with offset, R = b1 exp(b2/(t + b3)): exact through three points, least squares in ohm through more,
 * weighted by the uncertainties of both axes when they are given.
 * The start comes from the data: ln R (t + b3) = a t + d is linear in b3, a and d, so no guess is asked of anybody.
 * Source: model of NIST StRD dataset MGH10 (Meyer 1970); the linearised start is derived here.
 * Undefined when the points do not determine it or the pole t = -b3 falls between them.
 */
export function fitExponential(
  points: readonly LawPoint[],
  weighting: 'weighted' | 'plain',
): LawFit | undefined {
  let law = linearisedStart(points);
  if (law === undefined) return undefined;
  let fit = descend(points, law, () => 1);
  for (let pass = 0; weighting === 'weighted' && fit !== undefined && pass < WEIGHT_PASSES; pass += 1) {
    law = fit.law;
    fit = descend(points, law, effectiveDeviation(law));
  }
  return fit?.result;
}

function linearisedStart(points: readonly LawPoint[]): Exponential | undefined {
  const fit = weightedLinearFit({
    rows: points.map(({ argument, ohm }) => [argument, 1, -Math.log(ohm)]),
    targets: points.map(({ argument, ohm }) => argument * Math.log(ohm)),
    weights: points.map(() => 1),
  });
  if (fit === undefined) return undefined;
  const [limitLnOhm, d, b3Celsius] = fit.coefficients;
  const law = {
    b1Ohm: Math.exp(limitLnOhm!),
    b2Celsius: d! - limitLnOhm! * b3Celsius!,
    b3Celsius: b3Celsius!,
  };
  return hasPoleWithin(law, points) || !(law.b1Ohm > 0 && Number.isFinite(law.b1Ohm)) ? undefined : law;
}

function hasPoleWithin({ b3Celsius }: Exponential, points: readonly LawPoint[]): boolean {
  const first = points[0]!.argument + b3Celsius;
  const last = points.at(-1)!.argument + b3Celsius;
  return !(first * last > 0);
}

const effectiveDeviation =
  (law: Exponential) =>
  (point: LawPoint): number =>
    Math.hypot(
      point.ohmUncertainty,
      lawSlope({ name: 'exponential', ...law }, point.argument) * point.argumentUncertainty,
    );

type Found = { readonly law: Exponential; readonly result: LawFit };

// The descent runs in (ln b1, b2, b3): b1 spans decades and must stay positive.
function descend(
  points: readonly LawPoint[],
  start: Exponential,
  deviation: (point: LawPoint) => number,
): Found | undefined {
  const data = {
    x: points.map((point) => point.argument),
    y: points.map((point) => point.ohm),
    u: points.map(deviation),
  };
  if (!data.u.every((u) => u > 0 && Number.isFinite(u))) return undefined;
  const fit = leastSquares(curveProblem(data, 3, modelInLog), {
    start: [Math.log(start.b1Ohm), start.b2Celsius, start.b3Celsius],
  });
  if (fit.kind === 'refused') return undefined;
  const [lnB1, b2Celsius, b3Celsius] = fit.parameters;
  const law = { b1Ohm: Math.exp(lnB1!), b2Celsius: b2Celsius!, b3Celsius: b3Celsius! };
  if (hasPoleWithin(law, points)) return undefined;
  const scales = [law.b1Ohm, 1, 1];
  const inverseNormal = fit.inverseNormal.map((row, i) =>
    row.map((entry, j) => entry * scales[i]! * scales[j]!),
  );
  return {
    law,
    result: {
      kind: 'law-fit',
      law: { name: 'exponential', ...law },
      names: [
        { name: 'b1', unit: 'ohm' },
        { name: 'b2', unit: 'degC' },
        { name: 'b3', unit: 'degC' },
      ],
      values: [law.b1Ohm, law.b2Celsius, law.b3Celsius],
      inverseNormal,
      chiSquared: fit.residualSumOfSquares,
      residuals: fit.residuals,
      leverages: points.map((point, i) => leverage(law, point, { inverseNormal, deviation: data.u[i]! })),
    },
  };
}

function leverage(
  law: Exponential,
  point: LawPoint,
  weight: { readonly inverseNormal: readonly (readonly number[])[]; readonly deviation: number },
): number {
  const gradient = exponentialGradient(law, point.argument).map((slope) => slope / weight.deviation);
  return quadraticForm(weight.inverseNormal, gradient);
}

function modelInLog(x: number, parameters: Float64Array, gradient: Float64Array | undefined): number {
  const law = { b1Ohm: Math.exp(parameters[0]!), b2Celsius: parameters[1]!, b3Celsius: parameters[2]! };
  const ohm = exponentialOhm(law, x);
  if (gradient !== undefined) {
    const [byB1, byB2, byB3] = exponentialGradient(law, x);
    gradient.set([byB1! * law.b1Ohm, byB2!, byB3!]);
  }
  return ohm;
}
