import { monotoneRoot } from '../numeric/monotone-root';
import { GAIN_SHARE, SHIFT_SHARE } from './likelihood';
import type { Spread } from './spread';

/** A place of the curve: where along itself it stands (-1 to 1), and half of the interval that holds the next one there. */
export type BandPlace = { readonly standing: number; readonly half: number };

const DIRECTIONS = 180;
const MOST_TIMES = 6;

/**
 * How many times wider than place by place a band must be so that the next specimen lies within it at all places at once,
 * with the given probability. A curve moves as one: its shift and its gain are the two components of what specimens differ
 * by, so the places are two normal numbers seen from different directions, and only the direction in which both lie
 * matters. At least 1.
 * Source: derived here, for a bivariate normal in polar coordinates (radius of a chi of two degrees, any direction alike),
 * mixed over tau.
 */
export function togetherFactor(
  places: readonly BandPlace[],
  { nodes }: Pick<Spread, 'nodes'>,
  probability: number,
): number {
  const seen = places.map(({ standing, half }) => ({
    half,
    angle: Math.atan2(Math.sqrt(GAIN_SHARE) * standing, Math.sqrt(SHIFT_SHARE)),
  }));
  const reaches = Array.from({ length: DIRECTIONS }, (_, i) => {
    const direction = ((i + 0.5) / DIRECTIONS) * Math.PI;
    return Math.min(...seen.map(({ half, angle }) => half / Math.abs(Math.cos(direction - angle))));
  });
  const held = (times: number): number =>
    nodes.reduce((sum, { tau, share, meanVariance }) => {
      if (share < 1e-9) return sum;
      const scale = -(times ** 2) / (2 * (tau ** 2 + meanVariance));
      const inside = reaches.reduce((total, reach) => total + 1 - Math.exp(scale * reach ** 2), 0);
      return sum + (share * inside) / DIRECTIONS;
    }, 0);
  if (held(1) >= probability) return 1;
  return (
    monotoneRoot(held, { from: 1, to: MOST_TIMES, target: probability, relativeWidth: 1e-6 }) ?? MOST_TIMES
  );
}
