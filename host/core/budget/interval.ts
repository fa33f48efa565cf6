export type CoverageInterval = { readonly from: number; readonly to: number };

/**
 * Interval that leaves out equal probability on both sides, from sorted draws.
 * Source: JCGM 101:2008, 7.7.2 and 7.7.3 note.
 */
export function symmetricInterval(sorted: Float64Array, probability: number): CoverageInterval {
  const covered = coveredCount(sorted, probability);
  const first = Math.round((sorted.length - covered) / 2);
  return { from: sorted[first]!, to: sorted[Math.min(first + covered, sorted.length - 1)]! };
}

/** Shortest interval that holds the probability, from sorted draws. Source: JCGM 101:2008, 7.7.4. */
export function shortestInterval(sorted: Float64Array, probability: number): CoverageInterval {
  const covered = Math.min(coveredCount(sorted, probability), sorted.length - 1);
  let best = 0;
  for (let first = 0; first + covered < sorted.length; first += 1) {
    if (sorted[first + covered]! - sorted[first]! < sorted[best + covered]! - sorted[best]!) best = first;
  }
  return { from: sorted[best]!, to: sorted[best + covered]! };
}

const coveredCount = (sorted: Float64Array, probability: number): number =>
  Math.round(probability * sorted.length);
