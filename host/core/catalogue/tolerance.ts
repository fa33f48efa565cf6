import { chiSquaredTail } from '../numeric/chi-squared-tail';
import { monotoneRoot } from '../numeric/monotone-root';
import { normalCdf } from '../numeric/normal';

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
  const places = placesOfMean(count, part);
  const degrees = count - 1;
  const confidenceOf = (k: number): number =>
    places.reduce(
      (sum, { half, weight }) => sum + weight * chiSquaredTail((degrees * half ** 2) / k ** 2, degrees),
      0,
    );
  return monotoneRoot(confidenceOf, { from: 1e-3, to: 1e4, target: confidence, relativeWidth: 1e-9 }) ?? 1e4;
}

/** Where the mean may have fallen, with its share, and the half width that holds the part from there. */
function placesOfMean(count: number, part: number): { readonly half: number; readonly weight: number }[] {
  const step = MEAN_REACH / STEPS;
  return Array.from({ length: STEPS + 1 }, (_, i) => {
    const simpson = i === 0 || i === STEPS ? 1 : i % 2 === 1 ? 4 : 2;
    const density = Math.exp(-0.5 * (i * step) ** 2) / Math.sqrt(2 * Math.PI);
    return {
      half: halfWidth((i * step) / Math.sqrt(count), part),
      weight: (2 * simpson * density * step) / 3,
    };
  });
}

/** Half of an interval about an off-centre mean that holds `part` of a standard normal. */
function halfWidth(offCentre: number, part: number): number {
  const held = (half: number): number => normalCdf(offCentre + half) - normalCdf(offCentre - half);
  return (
    monotoneRoot(held, { from: 0, to: offCentre + 10, target: part, relativeWidth: 1e-12 }) ?? offCentre + 10
  );
}
