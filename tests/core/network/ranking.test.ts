import { describe, expect, it } from 'vitest';
import { newRanking } from '../../../host/core/network/search/ranking';

describe('a ranking', () => {
  it('puts the lower part values first among equal scores, whatever came first', () => {
    const ranking = newRanking(2);
    for (const parts of [
      [20, 5],
      [10, 9],
      [10, 7],
    ])
      ranking.insert(3, Float64Array.from(parts));
    expect(ranking.found().map(({ partsOhm }) => partsOhm)).toEqual([
      [10, 7],
      [10, 9],
    ]);
  });

  it('has no ceiling until it is full', () => {
    const ranking = newRanking(2);
    ranking.insert(5, Float64Array.from([1]));
    expect(ranking.ceiling()).toBe(Infinity);
    ranking.insert(4, Float64Array.from([1]));
    expect(ranking.ceiling()).toBe(5);
  });
});
