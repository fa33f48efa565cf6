import { describe, expect, it } from 'vitest';
import { fitCurve } from '../../../host/core/curve';
import { settingForMarks } from '../../../host/core/plan';
import { planAgainstGrid } from '../../support/plan-against-grid';

/** Two coils at right angles: the angle of the field, trade notes 1.2. */
const angle = (ohm: number): number => (180 / Math.PI) * 2.2 * Math.atan2(ohm, ohm + 90);
const OHMS = [10, 20, 40, 80, 160, 320];
const curve = (() => {
  const readings = OHMS.flatMap((resistanceOhm) =>
    (['up', 'down'] as const).map((leg) => ({
      resistanceOhm,
      leg,
      reading: Math.round(angle(resistanceOhm) + (leg === 'up' ? -0.4 : 0.4)),
    })),
  );
  const found = fitCurve(readings, { mechanism: 'two-coil' });
  if (found.kind === 'refused') throw new Error(found.code);
  return found;
})();
const asked = { readingsEach: 2, minutes: 1, leastGainAMinute: 0.001 };

describe('the setting that makes the marks surest', () => {
  it.each([
    [15, 10, 30],
    [280, 160, 320],
  ])('lies about the one mark that counts, at %i ohm', (ohm, from, to) => {
    const next = settingForMarks(curve, { ...asked, marks: [{ reading: angle(ohm), weight: 1 }] });
    if (next.kind === 'enough') throw new Error('one reading always tells something');
    expect(next.resistanceOhm).toBeGreaterThan(from);
    expect(next.resistanceOhm).toBeLessThanOrEqual(to);
    expect(next.then).toBeLessThan(next.now);
    expect(OHMS).not.toContain(next.resistanceOhm);
  });

  it('is none where what it takes away is not worth its minutes, or no mark is reached', () => {
    const marks = [{ reading: angle(60), weight: 1 }];
    expect(settingForMarks(curve, { ...asked, marks, minutes: 1000 }).kind).toBe('enough');
    expect(settingForMarks(curve, { ...asked, marks: [{ reading: 5000, weight: 1 }] }).kind).toBe('enough');
  });

  // The judge is the information matrix of the true law, which the plan does not know; exchange after Fedorov.
  it('is nearly as good as the best design for the true law, and better than settings even in ln R', () => {
    const found = planAgainstGrid(8, { first: 6, all: 8 }, { isMechanismSaid: false });
    expect(found.overOptimum).toBeLessThan(1.3);
    expect(found.byMean).toBeGreaterThan(1.03);
    expect(found.byWorst).toBeGreaterThan(1.3);
  });
});
