import { expect, it } from 'vitest';
import { planAgainstGrid } from '../support/plan-against-grid';
import { addRow } from './table';

const GAUGES = 500;

it('plans settings for the marks', () => {
  const found = planAgainstGrid(GAUGES, { first: 6, all: 9 }, { isMechanismSaid: false });
  const what = `${GAUGES} random gauges, six settings even in ln R and three where the plan asks, both legs; medians`;
  addRow({
    part: 'plan',
    what: `readings that an even grid needs by those of the plan, by mean variance at the marks: ${what}`,
    measured: `${found.byMean.toFixed(2)}, by the worst mark ${found.byWorst.toFixed(2)}; the best design for the true law ${found.bestByMean.toFixed(2)}`,
    goal: '>= 1.25',
  });
  addRow({
    part: 'plan',
    what: 'the same plan by the I-optimal design of the true law, mean variance',
    measured: found.overOptimum.toFixed(2),
    goal: '<= 1.3',
  });
  expect(found.byMean).toBeGreaterThan(1.1);
  expect(found.overOptimum).toBeLessThan(1.3);
});
