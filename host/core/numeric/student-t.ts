import { normalCdf, normalQuantile } from './normal';

/** From here on the expansion about the normal is exact to 1e-13 for any probability that a budget uses. */
const EXPANSION_FROM_DEGREES = 2_000;
/** Beyond this a t distribution cannot be told from the normal in double precision. */
const NORMAL_FROM_DEGREES = 1e15;

/**
 * Probability that a Student t with the given degrees of freedom (> 0, need not be whole) lies below t.
 * Source: Abramowitz and Stegun 26.7.1 through the regularised incomplete beta function.
 */
export function studentTCdf(t: number, degreesOfFreedom: number): number {
  const upper = upperTail(Math.abs(t), degreesOfFreedom);
  return t < 0 ? upper : 1 - upper;
}

/**
 * The t below which a Student t lies with the given probability, 0 < probability < 1, to about 1e-12 of its value.
 * Source: inverse of the distribution function by bracketed Newton steps in ln t; from 2,000 degrees of freedom the
 * expansion of Abramowitz and Stegun 26.7.5. Degrees of freedom of Infinity (or null in a budget) mean the normal.
 */
export function studentTQuantile(probability: number, degreesOfFreedom: number): number {
  if (probability === 0.5) return 0;
  if (degreesOfFreedom >= EXPANSION_FROM_DEGREES) return expansion(probability, degreesOfFreedom);
  const tail = Math.max(probability < 0.5 ? probability : 1 - probability, Number.MIN_VALUE);
  const t = quantileOfTail(tail, degreesOfFreedom);
  return probability < 0.5 ? -t : t;
}

/**
 * Factor k such that the interval of plus and minus k standard uncertainties has the given probability.
 * Source: JCGM 100:2008 (GUM) Annex G.3, t_p(nu).
 */
export const coverageFactor = (probability: number, degreesOfFreedom: number): number =>
  studentTQuantile(0.5 + probability / 2, degreesOfFreedom);

function expansion(probability: number, degreesOfFreedom: number): number {
  const z = normalQuantile(probability);
  if (!(degreesOfFreedom < NORMAL_FROM_DEGREES)) return z;
  const z2 = z * z;
  const inverse = 1 / degreesOfFreedom;
  const g1 = (z * (z2 + 1)) / 4;
  const g2 = (z * (3 + z2 * (16 + z2 * 5))) / 96;
  const g3 = (z * (-15 + z2 * (17 + z2 * (19 + z2 * 3)))) / 384;
  const g4 = (z * (-945 + z2 * (-1920 + z2 * (1482 + z2 * (776 + z2 * 79))))) / 92_160;
  return z + inverse * (g1 + inverse * (g2 + inverse * (g3 + inverse * g4)));
}

function upperTail(t: number, degreesOfFreedom: number): number {
  if (degreesOfFreedom >= NORMAL_FROM_DEGREES) return normalCdf(-t);
  if (t === 0) return 0.5;
  const square = t * t;
  // The two arguments sum to 1; each is computed on its own so that neither loses digits.
  const x = degreesOfFreedom / (degreesOfFreedom + square);
  const complement = square / (degreesOfFreedom + square);
  // The logarithm is taken of the small quotient: the power x^(nu/2) would multiply the rounding of x by nu.
  const logX = -Math.log1p(square / degreesOfFreedom);
  return 0.5 * regularisedBeta({ x, complement, logX, a: degreesOfFreedom / 2, b: 0.5 });
}

function quantileOfTail(tail: number, degreesOfFreedom: number): number {
  // Bracket in ln t: the tail falls with t from 1/2 to below any double.
  let low = -40;
  let high = 700;
  let logT = Math.log(startT(tail, degreesOfFreedom));
  for (let step = 0; step < 200; step += 1) {
    const t = Math.exp(logT);
    const error = Math.log(upperTail(t, degreesOfFreedom) / tail);
    if (error > 0) low = logT;
    else high = logT;
    const slope = (-t * density(t, degreesOfFreedom)) / upperTail(t, degreesOfFreedom);
    const newton = logT - error / slope;
    const next = newton > low && newton < high ? newton : (low + high) / 2;
    if (Math.abs(next - logT) < 1e-15 * Math.max(1, Math.abs(logT))) return Math.exp(next);
    logT = next;
  }
  return Math.exp(logT);
}

function startT(tail: number, degreesOfFreedom: number): number {
  if (degreesOfFreedom > 4) return Math.max(-normalQuantile(tail), 1e-6);
  // Heavy tails: exact for one degree of freedom, a fair start for its neighbours.
  return Math.max(1 / Math.tan(Math.PI * Math.max(tail, 1e-300)), 1e-6) ** Math.min(1, 1 / degreesOfFreedom);
}

function density(t: number, degreesOfFreedom: number): number {
  const half = degreesOfFreedom / 2;
  const logScale = logGammaHalfStep(half) - 0.5 * Math.log(degreesOfFreedom * Math.PI);
  return Math.exp(logScale - (half + 0.5) * Math.log1p((t * t) / degreesOfFreedom));
}

type BetaArguments = { x: number; complement: number; logX: number; a: number; b: 0.5 };

function regularisedBeta({ x, complement, logX, a, b }: BetaArguments): number {
  const logFront = logGammaHalfStep(a) - 0.5 * Math.log(Math.PI) + a * logX + b * Math.log(complement);
  const front = Math.exp(logFront);
  if (x < (a + 1) / (a + b + 2)) return (front * betaFraction(x, a, b)) / a;
  return 1 - (front * betaFraction(complement, b, a)) / b;
}

// Source: DLMF 8.17.22, evaluated by the modified Lentz method.
function betaFraction(x: number, a: number, b: number): number {
  const tiny = 1e-300;
  const guard = (value: number): number => (Math.abs(value) < tiny ? tiny : value);
  let c = 1;
  let d = 1 / guard(1 - ((a + b) * x) / (a + 1));
  let fraction = d;
  for (let m = 1; m <= 10_000; m += 1) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / guard(1 + even * d);
    c = guard(1 + even / c);
    fraction *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / guard(1 + odd * d);
    c = guard(1 + odd / c);
    const change = d * c;
    fraction *= change;
    if (Math.abs(change - 1) < 1e-16) break;
  }
  return fraction;
}

/**
 * ln( Gamma(a + 1/2) / Gamma(a) ). For a >= 12 by the asymptotic series, where the difference of two logarithms of
 * gamma would lose digits; below by the recurrence upwards.
 * Source: DLMF 5.11.13 with the coefficients of (a - 1/4), which contain even powers only.
 */
function logGammaHalfStep(a: number): number {
  let shift = 0;
  let x = a;
  while (x < 12) {
    // Gamma(x+1/2)/Gamma(x) = Gamma(x+3/2)/Gamma(x+1) * x/(x+1/2)
    shift += Math.log(x / (x + 0.5));
    x += 1;
  }
  const w = x - 0.25;
  const inverse = 1 / (w * w);
  const series =
    inverse * (1 / 64 + inverse * (-5 / 2048 + inverse * (61 / 49_152 - (inverse * 1385) / 1_048_576)));
  return shift + 0.5 * Math.log(w) + series;
}
