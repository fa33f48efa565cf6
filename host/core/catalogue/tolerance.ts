import { chiSquaredTail } from '../numeric/chi-squared-tail';
import { monotoneRoot } from '../numeric/monotone-root';
import { normalCdf, normalQuantile } from '../numeric/normal';

/** Beyond so many standard errors of the mean nothing is left to integrate. */
const MEAN_REACH = 8;
const STEPS = 200;

/**
 * Factor k: mean and k standard deviations of n specimens to either side hold the given part of all specimens, with the
 * given confidence. Exact for a normal population.
 * Source: ISO 16269-6:2014, annex on exact two-sided factors, as in Odeh and Owen, Tables for Normal Tolerance Limits
 * (1980): the chi-squared tail averaged over the error of the mean, by Simpson's rule. `count` >= 2.
 */
export function toleranceFactor(count: number, part: number, confidence: number): number {
  const places = placesOfMean(count, (offCentre) => halfWidth(Math.abs(offCentre), part));
  return factorFrom(places, count - 1, confidence);
}

/**
 * The same to one side: the mean and k standard deviations of n specimens lie beyond the given part of all, with the given
 * confidence. Exact for a normal population.
 * Source: ISO 16269-6:2014, one-sided factors; the same number as a quantile of non-central t over the root of n
 * (NIST/SEMATECH e-Handbook 7.2.6.3), here by the chi-squared tail averaged over the error of the mean. `count` >= 2.
 */
export function oneSidedToleranceFactor(count: number, part: number, confidence: number): number {
  const limit = normalQuantile(part);
  // A mean that has fallen beyond the limit already holds the part with any standard deviation.
  const places = placesOfMean(count, (offCentre) => Math.max(0, limit - offCentre));
  return factorFrom(places, count - 1, confidence);
}

/** Where the mean may have fallen, with its share, and how many deviations of all reach the limit from there. */
type Placed = { readonly reach: number; readonly weight: number };

function factorFrom(places: readonly Placed[], degrees: number, confidence: number): number {
  const confidenceOf = (k: number): number =>
    places.reduce(
      (sum, { reach, weight }) => sum + weight * chiSquaredTail((degrees * reach ** 2) / k ** 2, degrees),
      0,
    );
  return monotoneRoot(confidenceOf, { from: 1e-3, to: 1e4, target: confidence, relativeWidth: 1e-9 }) ?? 1e4;
}

/** `reachFrom`: of a mean so many deviations of all beside their middle. */
function placesOfMean(count: number, reachFrom: (offCentre: number) => number): Placed[] {
  const step = MEAN_REACH / STEPS;
  return Array.from({ length: 2 * STEPS + 1 }, (_, i) => {
    const z = (i - STEPS) * step;
    const simpson = i === 0 || i === 2 * STEPS ? 1 : i % 2 === 1 ? 4 : 2;
    const density = Math.exp(-0.5 * z ** 2) / Math.sqrt(2 * Math.PI);
    return { reach: reachFrom(z / Math.sqrt(count)), weight: (simpson * density * step) / 3 };
  });
}

/** Half of an interval about an off-centre mean that holds `part` of a standard normal. */
function halfWidth(offCentre: number, part: number): number {
  const held = (half: number): number => normalCdf(offCentre + half) - normalCdf(offCentre - half);
  return (
    monotoneRoot(held, { from: 0, to: offCentre + 10, target: part, relativeWidth: 1e-12 }) ?? offCentre + 10
  );
}
