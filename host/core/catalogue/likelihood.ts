import { standingAt, type Bank, TAUS } from './bank';
import { columnAtSpot, POSITIONS, spotOf, type Spot } from './columns';

/** A measured point as every model sees it: where on the axis, and what was seen by each dial. */
export type Sight = {
  readonly position: number;
  /** Where that lies in the columns, and half a position below and above. */
  readonly spots: { readonly here: Spot; readonly below: Spot; readonly above: Spot };
  /** Standard uncertainty of the position. */
  readonly sideways: number;
  /** Place on the arc of each of the bank's dials (NaN where its unit measures something else); ohms of a sender. */
  readonly seen: Float64Array;
  readonly uncertainty: Float64Array;
};

/** Source: definition. */
export const spotsAt = (position: number): Sight['spots'] => ({
  here: spotOf(position),
  below: spotOf(position - 0.5),
  above: spotOf(position + 0.5),
});

/** A product of weights is taken to its logarithm before it leaves what a number holds. */
const LARGE = 1e200;

/**
 * A specimen differs from its model as one: by a shift, and by a gain about the middle. Their shares of tau squared make
 * the variance over the whole arc tau squared on average. Derived here.
 */
export const SHIFT_SHARE = 0.7;
export const GAIN_SHARE = 0.9;
/** What is left beside shift and gain, as part of the usual spread: small bends of each specimen. Derived here. */
const OWN_BEND = 0.004;

/** What the sights add up to against one model; one tau more costs a few additions. */
export type Sums = {
  readonly squares: number;
  readonly logs: number;
  readonly shift: number;
  readonly gain: number;
  readonly shiftShift: number;
  readonly shiftGain: number;
  readonly gainGain: number;
};

/** Source: effective variance of a residual, both axes, as in `misfitOf`. Undefined where the dial measures something else. */
export function sumsOf(
  bank: Bank,
  model: number,
  sights: readonly Sight[],
  bend = OWN_BEND,
): Sums | undefined {
  const [arc, offset] = [bank.arcAt[model]!, model * POSITIONS];
  let [squares, logs, product, shift, gain] = [0, 0, 1, 0, 0];
  let [shiftShift, shiftGain, gainGain] = [0, 0, 0];
  for (const { position, spots, sideways, seen, uncertainty } of sights) {
    const mean = columnAtSpot(bank.mean, spots.here, offset);
    const residual = seen[arc]! - mean;
    if (Number.isNaN(residual)) return undefined;
    const rise = columnAtSpot(bank.mean, spots.above, offset) - columnAtSpot(bank.mean, spots.below, offset);
    const own = columnAtSpot(bank.uncertainty, spots.here, offset);
    const weight = 1 / (uncertainty[arc]! ** 2 + own ** 2 + (rise * sideways) ** 2 + bend ** 2);
    const at = standingAt(bank, model, position, mean);
    product *= weight;
    if (product > LARGE) {
      logs -= Math.log(product);
      product = 1;
    }
    squares += residual * residual * weight;
    shift += residual * weight;
    gain += residual * at * weight;
    shiftShift += weight;
    shiftGain += at * weight;
    gainGain += at * at * weight;
  }
  logs -= Math.log(product);
  return { squares, logs, shift, gain, shiftShift, shiftGain, gainGain };
}

/** What the sights say of shift and gain at one tau, and how likely they are. */
export type AtTau = {
  readonly logLikelihood: number;
  /** Chi-squared with shift and gain taken up. */
  readonly misfit: number;
  readonly shift: number;
  readonly gain: number;
  /** Variances and covariance of shift and gain. */
  readonly shiftVariance: number;
  readonly gainVariance: number;
  readonly covariance: number;
};

/**
 * Likelihood of the sights for a new specimen of a model, at one tau.
 * Source: normal with covariance D + F F', two factors, inverted by Woodbury's identity (1950), its determinant by the
 * matrix determinant lemma.
 */
export function atTau(sums: Sums, tau: number): AtTau {
  const [s2, g2] = [SHIFT_SHARE * tau ** 2, GAIN_SHARE * tau ** 2];
  const [a, b, c] = [1 + s2 * sums.shiftShift, Math.sqrt(s2 * g2) * sums.shiftGain, 1 + g2 * sums.gainGain];
  const determinant = a * c - b * b;
  const [u, v] = [Math.sqrt(s2) * sums.shift, Math.sqrt(g2) * sums.gain];
  const [x, y] = [(c * u - b * v) / determinant, (a * v - b * u) / determinant];
  const misfit = sums.squares - (u * x + v * y);
  return {
    logLikelihood: -0.5 * (misfit + sums.logs + Math.log(determinant)),
    misfit,
    shift: Math.sqrt(s2) * x,
    gain: Math.sqrt(g2) * y,
    shiftVariance: (s2 * c) / determinant,
    gainVariance: (g2 * a) / determinant,
    covariance: (-Math.sqrt(s2 * g2) * b) / determinant,
  };
}

/**
 * No tau of a model makes the sights likelier than this: the misfit falls as tau grows, and the determinant is at least 1.
 * Derived here, from `atTau`.
 */
export function mostLikely(bank: Bank, model: number, sums: Sums): number {
  const tau = bank.taus[model * TAUS + TAUS - 1]!;
  const [s2, g2] = [SHIFT_SHARE * tau ** 2, GAIN_SHARE * tau ** 2];
  const a = 1 + s2 * sums.shiftShift;
  const b2 = s2 * g2 * sums.shiftGain ** 2;
  const c = 1 + g2 * sums.gainGain;
  const taken =
    c * s2 * sums.shift ** 2 -
    2 * s2 * g2 * sums.shiftGain * sums.shift * sums.gain +
    a * g2 * sums.gain ** 2;
  return -0.5 * (sums.squares - taken / (a * c - b2) + sums.logs);
}

/** The same over all of the model's tau. Source: mean over equal parts of its posterior. */
export function logLikelihoodOf(bank: Bank, model: number, sums: Sums): number {
  let best = -Infinity;
  let sum = 0;
  for (let node = 0; node < TAUS; node += 1) {
    const log = atTau(sums, bank.taus[model * TAUS + node]!).logLikelihood;
    if (log > best) {
      sum = sum * Math.exp(best - log) + 1;
      best = log;
    } else sum += Math.exp(log - best);
  }
  return best + Math.log(sum / TAUS);
}
