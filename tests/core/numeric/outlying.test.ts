import { describe, expect, it } from 'vitest';
import { weightedLinearFit } from '../../../host/core/numeric/linear-fit';
import { outlyingPoints } from '../../../host/core/numeric/outlying';
import { randomSource } from '../../../host/core/numeric/random';

const lineThrough = (values: readonly number[]) => {
  const rows = values.map((_, i) => [1, i]);
  const fit = weightedLinearFit({ rows, targets: values, weights: rows.map(() => 1) })!;
  return { residuals: fit.residuals, leverages: fit.leverages, parameterCount: 2 };
};

describe('points that the others speak against', () => {
  it('are found even when the rest fits exactly', () => {
    expect(outlyingPoints(lineThrough([0, 1, 2, 3.5, 4, 5, 6]), 'estimated')).toEqual([3]);
    expect(outlyingPoints(lineThrough([0, 1, 2, 3, 4, 5, 6]), 'estimated')).toEqual([]);
  });

  it('are questioned in about one of a hundred sound sets', () => {
    const random = randomSource(21);
    let alarms = 0;
    const sets = 4000;
    for (let set = 0; set < sets; set += 1) {
      const values = Array.from({ length: 8 }, (_, i) => i + random.normal());
      if (outlyingPoints(lineThrough(values), 'estimated').length > 0) alarms += 1;
    }
    expect(alarms / sets).toBeGreaterThan(0.004);
    expect(alarms / sets).toBeLessThan(0.016);
  });

  it('are never found where nothing is left over to judge by', () => {
    expect(outlyingPoints(lineThrough([0, 1, 9]), 'estimated')).toEqual([]);
  });

  it('are judged by their own uncertainty when that is known', () => {
    const fit = lineThrough([0, 1, 2, 9, 4, 5, 6]);
    expect(outlyingPoints(fit, 'known')).toEqual([3]);
    expect(outlyingPoints({ ...fit, residuals: fit.residuals.map((each) => each / 10) }, 'known')).toEqual(
      [],
    );
  });
});
