import { describe, expect, it } from 'vitest';
import { handCoverage } from '../support/hand-coverage';
import { mechanisms } from '../support/random-gauge';

// A smaller run of what the bench prints; the seeds are fixed, so the counts are too.
describe('95 % intervals of curves that were measured by hand', () => {
  it.each(['resistors', 'potentiometer'] as const)('hold the truth, with %s', (how) => {
    const runs = mechanisms.map((mechanism, i) => handCoverage(mechanism, how, 12, 70_000 + 1_000 * i));
    const rate = (of: 'marks' | 'readings'): number =>
      runs.reduce((sum, run) => sum + run[of].held, 0) / runs.reduce((sum, run) => sum + run[of].all, 0);
    expect(rate('marks')).toBeGreaterThan(0.9);
    expect(rate('readings')).toBeGreaterThan(0.92);
  });
});
