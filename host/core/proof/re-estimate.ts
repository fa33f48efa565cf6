import { choleskyFactor, choleskySolve } from '../numeric/cholesky';
import { quadraticForm } from '../numeric/matrix';
import type { SenderResponse } from '../response';
import { chainModel, NO_DIFFERENCE, type Chain } from './circuit-model';
import type { ChainPair } from './chain';

/**
 * How far the sender in the vehicle may lie from its curve before anybody looked: ln of its ohms and of its steepness
 * about the middle, standard uncertainties (relative).
 */
export type SenderPrior = { readonly logOhm: number; readonly tilt: number };

/** A curve out of a book, of another specimen: 8 % of its ohms, 2 % of its B. Common practice, no source. */
export const BOOK_CURVE: SenderPrior = { logOhm: 0.08, tilt: 0.02 };
/** A curve of this very part, measured: what a bath and a handheld meter leave. Common practice, no source. */
export const OWN_CURVE: SenderPrior = { logOhm: 0.01, tilt: 0.01 };

/**
 * What the pairs say of the sender: ln of its ohms, ln of its steepness, how far the reference is off at every pair (dial
 * units), with their covariance.
 */
export type ReEstimate = {
  readonly kind: 're-estimate';
  readonly logOhm: number;
  readonly tilt: number;
  readonly referenceOff: number;
  readonly covariance: readonly (readonly number[])[];
  /** The sender as it is now believed to be. */
  readonly sender: SenderResponse;
  /** What the needle shows at a true value by it, with its standard uncertainty; dial units. */
  readonly needleAt: (value: number) => { readonly reading: number; readonly standardUncertainty: number };
};

const COVERAGE_FACTOR = 2;
const MOST_STEPS = 30;
const CLOSE = 1e-9;
const NUDGE = 1e-4;

type Parameters = readonly [logOhm: number, tilt: number, off: number];

const withStep = (parameters: Parameters, index: number, by: number): Parameters => [
  parameters[0] + (index === 0 ? by : 0),
  parameters[1] + (index === 1 ? by : 0),
  parameters[2] + (index === 2 ? by : 0),
];

/** Central differences of many values over the three parameters. */
const gradientOf = (at: (parameters: Parameters) => readonly number[], here: Parameters): number[][] =>
  [0, 1, 2].map((index) => {
    const [up, down] = [at(withStep(here, index, NUDGE)), at(withStep(here, index, -NUDGE))];
    return up.map((each, i) => (each - down[i]!) / (2 * NUDGE));
  });

const dot = (one: readonly number[], other: readonly number[]): number =>
  one.reduce((sum, each, i) => sum + each * other[i]!, 0);

/** The sender with a difference, as a response of its own. Source: ln r' = ln r + k + t (ln r - ln r_middle). */
const changedSender = (
  sender: SenderResponse,
  { logOhm, tilt }: SenderPrior,
  middleOhm: number,
): SenderResponse => {
  const middle = Math.log(middleOhm);
  const ohm = (value: number): number => {
    const log = Math.log(Math.max(1e-6, sender.ohm(value)));
    return Math.exp(log + logOhm + tilt * (log - middle));
  };
  return {
    ...sender,
    ohm,
    value: (resistanceOhm) => {
      const log = Math.log(Math.max(1e-9, resistanceOhm));
      return sender.value(Math.exp((log - logOhm + tilt * middle) / (1 + tilt)));
    },
  };
};

const inverseOf = (lower: readonly (readonly number[])[]): number[][] =>
  [0, 1, 2].map((column) =>
    choleskySolve(
      lower,
      [0, 1, 2].map((row) => (row === column ? 1 : 0)),
    ),
  );

/**
 * Backwards from pairs to the sender: most probable ln-ohms, steepness and shared error of the reference, so that no
 * resistor chases a misplaced probe.
 * Source: maximum a posteriori by Gauss-Newton with normal priors, covariance after Laplace. The reference's shared part
 * is a parameter of its own, its own part and the eye are noise, the gauge's curve is known to its own uncertainty.
 */
export const reEstimate = (
  chain: Chain,
  pairs: readonly ChainPair[],
  prior: SenderPrior,
): ReEstimate | undefined => {
  const model = chainModel(chain);
  const shared = Math.max(...pairs.map((pair) => pair.sharedUncertainty)) / COVERAGE_FACTOR;
  const scales = [prior.logOhm, prior.tilt, shared] as const;
  const needle = (value: number, [logOhm, tilt]: Parameters): number =>
    model.reading(value, { ...NO_DIFFERENCE, logOhm: logOhm * scales[0], tilt: tilt * scales[1] });
  const slope = (value: number): number => {
    const step = 1e-3 * (chain.sender.knownTo - chain.sender.knownFrom);
    return (needle(value + step, [0, 0, 0]) - needle(value - step, [0, 0, 0])) / (2 * step);
  };
  const noise = pairs.map((pair) =>
    Math.hypot(
      pair.readingUncertainty / COVERAGE_FACTOR,
      (slope(pair.value) * pair.eachUncertainty) / COVERAGE_FACTOR,
      chain.gauge.readingUncertainty(model.senderOhm(pair.value)),
    ),
  );
  const whitened = (parameters: Parameters): number[] =>
    pairs.map(
      (pair, i) => (pair.indicated - needle(pair.value - parameters[2] * scales[2], parameters)) / noise[i]!,
    );
  const found = descend(whitened);
  if (found === undefined) return undefined;
  const { at, lower } = found;
  const scaled = inverseOf(lower);
  const [logOhm, tilt, referenceOff] = at.map((each, i) => each * scales[i]!);
  const sender = changedSender(chain.sender, { logOhm: logOhm!, tilt: tilt! }, model.middleOhm);
  return {
    ...{ kind: 're-estimate', logOhm: logOhm!, tilt: tilt!, referenceOff: referenceOff!, sender },
    covariance: scaled.map((row, i) => row.map((each, j) => each * scales[i]! * scales[j]!)),
    needleAt: (value) => {
      const gradient = gradientOf((each) => [needle(value, each)], at).map(([each]) => each ?? 0);
      return {
        reading: needle(value, at),
        standardUncertainty: Math.hypot(
          Math.sqrt(quadraticForm(scaled, gradient)),
          chain.gauge.readingUncertainty(model.senderOhm(value)),
        ),
      };
    },
  };
};

type Descent = { readonly at: Parameters; readonly lower: readonly (readonly number[])[] };

/** Gauss-Newton on whitened misfits under standard normal priors; the last normal matrix comes along, factored. */
const descend = (whitened: (parameters: Parameters) => readonly number[]): Descent | undefined => {
  let at: Parameters = [0, 0, 0];
  for (let step = 0; step < MOST_STEPS; step += 1) {
    const misfit = whitened(at);
    const gradient = gradientOf(whitened, at);
    const normal = gradient.map((one, i) => gradient.map((other, j) => dot(one, other) + (i === j ? 1 : 0)));
    const lower = choleskyFactor(normal);
    if (lower === undefined || misfit.some((each) => !Number.isFinite(each))) return undefined;
    const move = choleskySolve(
      lower,
      gradient.map((each, i) => -dot(each, misfit) - at[i]!),
    );
    const most = Math.max(...move.map(Math.abs));
    const factor = most > 1 ? 1 / most : 1;
    at = [at[0] + factor * move[0]!, at[1] + factor * move[1]!, at[2] + factor * move[2]!];
    if (most < CLOSE) return { at, lower };
  }
  return undefined;
};

/** One sender out of those that the pairs leave possible. `scores`: three standard normal numbers. */
export const drawnSender = (
  { covariance, logOhm, tilt }: ReEstimate,
  { sender }: Chain,
  middleOhm: number,
  scores: readonly [number, number, number],
): SenderResponse => {
  const lower = choleskyFactor(covariance) ?? [[0], [0, 0], [0, 0, 0]];
  const moved = lower.map((row) => row.reduce((sum, each, k) => sum + each * scores[k]!, 0));
  return changedSender(sender, { logOhm: logOhm + (moved[0] ?? 0), tilt: tilt + (moved[1] ?? 0) }, middleOhm);
};
