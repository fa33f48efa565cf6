const SQRT_2 = Math.SQRT2;
const SQRT_2_PI = Math.sqrt(2 * Math.PI);
const ROOT_PI = Math.sqrt(Math.PI);
/** Below this the power series of erf converges quickly and loses no digit; above it the continued fraction does. */
const SERIES_UP_TO = 2;

/**
 * Complementary error function, relative accuracy about 1e-14.
 * Source: Abramowitz and Stegun 7.1.6 (series) and 7.1.14 (continued fraction).
 */
function complementaryError(x: number): number {
  if (x < 0) return 2 - complementaryError(-x);
  return x < SERIES_UP_TO ? 1 - errorSeries(x) : errorFraction(x);
}

/** Probability that a standard normal lies below z. Source: definition through erfc, so both tails keep their digits. */
export const normalCdf = (z: number): number => 0.5 * complementaryError(-z / SQRT_2);

/** Density of the standard normal. Source: definition. */
const normalDensity = (z: number): number => Math.exp(-0.5 * z * z) / SQRT_2_PI;

/**
 * The z below which a standard normal lies with the given probability, 0 < probability < 1.
 * Source: start value Abramowitz and Stegun 26.2.23, then Halley steps on the distribution function.
 * Outside (0, 1) the answer is the nearest representable end, about -38 or +8.2, never infinite.
 */
export function normalQuantile(probability: number): number {
  if (probability > 0.5) return -lowerQuantile(1 - probability);
  return lowerQuantile(probability);
}

function lowerQuantile(probability: number): number {
  const p = Math.max(probability, Number.MIN_VALUE);
  if (p === 0.5) return 0;
  const t = Math.sqrt(-2 * Math.log(p));
  let z =
    (2.515517 + t * (0.802853 + t * 0.010328)) / (1 + t * (1.432788 + t * (0.189269 + t * 0.001308))) - t;
  // Halley's correction triples the digits; the start has three.
  for (let step = 0; step < 3; step += 1) {
    const density = normalDensity(z);
    if (density === 0) break;
    const error = (normalCdf(z) - p) / density;
    z -= error / (1 + 0.5 * z * error);
  }
  return z;
}

function errorSeries(x: number): number {
  // erf x = 2/sqrt(pi) exp(-x^2) sum 2^n x^(2n+1) / (2n+1)!!: all terms positive.
  let term = x;
  let sum = x;
  for (let n = 1; term > sum * 1e-17; n += 1) {
    term *= (2 * x * x) / (2 * n + 1);
    sum += term;
  }
  return (2 / ROOT_PI) * Math.exp(-x * x) * sum;
}

function errorFraction(x: number): number {
  // Evaluated from the tail: 60 levels suffice for x >= 2.
  let tail = 0;
  for (let level = 60; level >= 1; level -= 1) tail = level / 2 / (x + tail);
  return Math.exp(-x * x) / (ROOT_PI * (x + tail));
}
