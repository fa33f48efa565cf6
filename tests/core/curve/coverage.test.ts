import { describe, expect, it } from 'vitest';

import { isDeep, someOf } from '../../support/deep';
import { markCoverage, scaleCoverage } from '../../support/curve-coverage';
import { mechanisms } from '../../support/random-gauge';

// A smaller run of what the bench prints; the seeds are fixed, so the counts are too.
describe('95 % intervals of the marks', () => {
  const runs = mechanisms.map((mechanism, i) =>
    markCoverage(mechanism, isDeep ? 40 : 12, 50_000 + 1000 * i).filter(({ all }) => all > 0),
  );
  const rate = (counts: readonly { held: number; all: number }[]) =>
    counts.reduce((sum, { held }) => sum + held, 0) / counts.reduce((sum, { all }) => sum + all, 0);

  it('hold the truth 92 to 98.5 % of the time over all mechanisms', () => {
    expect(rate(runs.flat())).toBeGreaterThan(0.92);
    expect(rate(runs.flat())).toBeLessThan(0.985);
  });

  it.each(mechanisms.flatMap((mechanism, i) => (isDeep ? [[mechanism, i] as const] : [])))(
    'hold it for %s alone',
    (_, i) => {
      expect(rate(runs[i]!)).toBeGreaterThan(0.88);
    },
  );
});

describe('95 % intervals over the whole scale of an electronic gauge that may hold its needle still', () => {
  it.each(someOf([5, 4, 6, 8], 4))('hold the truth with %i settings', (settings) => {
    expect(scaleCoverage('electronic', 30, { settings, seed: 9000 })).toBeGreaterThan(0.93);
  });
});
