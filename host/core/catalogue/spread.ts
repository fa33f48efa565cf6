import { monotoneRoot } from '../numeric/monotone-root';
import { normalCdf } from '../numeric/normal';

/** What one specimen shows at one place: its value and the standard uncertainty of its own fit. */
export type Specimen = { readonly value: number; readonly uncertainty: number };

/**
 * Standard deviation between specimens of one model, as a part of the arc, before anything is known of it.
 * Common practice, no source.
 */
export const USUAL_SPREAD_PART = 0.02;
/** The same of senders, in ln of the resistance: +-10 % is what a published sender sheet grants, as a half width. */
export const USUAL_SPREAD_LOG = 0.1 / Math.sqrt(3);

const LEAST_UNCERTAINTY = 1e-9;
/** Places of tau at which the posterior is evaluated: equal parts of the prior's own probability. */
const NODES = 400;

/** One value of tau with its share, and the mean of the model if tau were that. */
export type SpreadNode = {
  readonly tau: number;
  readonly share: number;
  readonly mean: number;
  readonly meanVariance: number;
};

/** What specimens say of their model: mean and spread, not as one figure but as a mixture. */
export type Spread = { readonly nodes: readonly SpreadNode[]; readonly count: number };

/** The mean at a given tau. Source: weighted mean, variance 1 / (u^2 + tau^2) for each specimen. */
export function meanAt(
  specimens: readonly Specimen[],
  tau: number,
): {
  readonly mean: number;
  readonly variance: number;
  readonly misfit: number;
  readonly logLikelihood: number;
} {
  let [weights, sum, logs] = [0, 0, 0];
  for (const { value, uncertainty } of specimens) {
    const variance = Math.max(uncertainty, LEAST_UNCERTAINTY) ** 2 + tau ** 2;
    weights += 1 / variance;
    sum += value / variance;
    logs += Math.log(variance);
  }
  const mean = sum / weights;
  let misfit = 0;
  for (const { value, uncertainty } of specimens)
    misfit += (value - mean) ** 2 / (Math.max(uncertainty, LEAST_UNCERTAINTY) ** 2 + tau ** 2);
  return { mean, variance: 1 / weights, misfit, logLikelihood: -0.5 * (logs + Math.log(weights) + misfit) };
}

/**
 * Posterior of mean and spread between specimens, one of them being enough.
 * `scale`: the usual spread of such parts; the prior of tau is a half-Cauchy of that scale, that of the mean is flat.
 * Source: normal random-effects model, Roever, J. Stat. Softw. 93(6) (2020); half-Cauchy: Gelman, Bayesian Analysis 1
 * (2006) 515-533. tau = scale tan(theta) makes the prior even in theta, so quadrature is a plain sum.
 */
export function spreadOf(specimens: readonly Specimen[], scale: number, nodes = NODES): Spread {
  const found = Array.from({ length: nodes }, (_, i) => {
    const tau = scale * Math.tan(((i + 0.5) / nodes) * (Math.PI / 2));
    return { tau, ...meanAt(specimens, tau) };
  });
  const best = Math.max(...found.map(({ logLikelihood }) => logLikelihood));
  const weights = found.map(({ logLikelihood }) => Math.exp(logLikelihood - best));
  const total = weights.reduce((sum, each) => sum + each, 0);
  return {
    count: specimens.length,
    nodes: found.map(({ tau, mean, variance }, i) => ({
      ...{ tau, mean, meanVariance: variance },
      share: weights[i]! / total,
    })),
  };
}

/** Probability that tau lies above a limit. Source: `spreadOf`. */
export const chanceTauAbove = ({ nodes }: Spread, limit: number): number =>
  nodes.reduce((sum, { tau, share }) => (tau > limit ? sum + share : sum), 0);

/** The tau below which the given probability lies. Source: `spreadOf`. */
export function tauQuantile({ nodes }: Spread, probability: number): number {
  let sum = 0;
  for (const { tau, share } of nodes) {
    sum += share;
    if (sum >= probability) return tau;
  }
  return nodes.at(-1)?.tau ?? 0;
}

/** Where the next specimen lies. Source: mixture over tau of normals about each mean, `spreadOf`. */
export function nextBelow({ nodes }: Spread, value: number, uncertainty = 0): number {
  return nodes.reduce((sum, { tau, share, mean, meanVariance }) => {
    const deviation = Math.sqrt(tau ** 2 + meanVariance + uncertainty ** 2);
    return sum + share * normalCdf((value - mean) / deviation);
  }, 0);
}

/** Interval that holds the next specimen with the given probability, half of the rest on either side. */
export function nextInterval(
  spread: Spread,
  probability: number,
): { readonly from: number; readonly to: number; readonly middle: number } {
  const at = (target: number): number => {
    const reach = spread.nodes.at(-1)!;
    const far = 10 * Math.sqrt(reach.tau ** 2 + reach.meanVariance);
    return (
      monotoneRoot((value) => nextBelow(spread, value), {
        ...{ from: reach.mean - far, to: reach.mean + far, target, relativeWidth: 1e-10 },
      }) ?? reach.mean
    );
  };
  return { from: at((1 - probability) / 2), to: at((1 + probability) / 2), middle: at(0.5) };
}

/**
 * One tau for several models of a kind: where the sum of their restricted log likelihoods is greatest.
 * Source: REML, Patterson and Thompson, Biometrika 58 (1971) 545-554. Groups of one specimen say nothing; 0 where the
 * specimens differ by no more than their uncertainties.
 */
export function pooledTau(groups: readonly (readonly Specimen[])[]): number {
  const telling = groups.filter((group) => group.length > 1);
  if (telling.length === 0) return 0;
  const likelihood = (tau: number): number =>
    telling.reduce((sum, group) => sum + meanAt(group, tau).logLikelihood, 0);
  const widest = Math.max(
    ...telling.flatMap((group) => group.map(({ value }) => Math.abs(value - group[0]!.value))),
  );
  return greatest(likelihood, 0, 2 * widest + Number.MIN_VALUE);
}

const GOLDEN = (Math.sqrt(5) - 1) / 2;
const SCAN = 60;

/** Argument of the greatest value: a scan, then golden sections about its best place. Source: Kiefer (1953). */
function greatest(valueAt: (x: number) => number, from: number, to: number): number {
  const places = Array.from({ length: SCAN + 1 }, (_, i) => from + (to - from) * (i / SCAN) ** 2);
  const values = places.map(valueAt);
  const best = values.indexOf(Math.max(...values));
  let [a, b] = [places[Math.max(0, best - 1)]!, places[Math.min(SCAN, best + 1)]!];
  for (let step = 0; step < 80; step += 1) {
    const [low, high] = [b - GOLDEN * (b - a), a + GOLDEN * (b - a)];
    if (valueAt(low) >= valueAt(high)) b = high;
    else a = low;
  }
  const found = (a + b) / 2;
  return found - from < 1e-6 * (to - from) ? from : found;
}
