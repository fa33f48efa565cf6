type Pool = { readonly sum: number; readonly count: number };

const meanOf = ({ sum, count }: Pool): number => sum / count;

/**
 * The nearest values, by least squares, that never fall. Source: pool adjacent violators (Barlow and others, 1972, from
 * memory).
 */
export const isotonic = (values: readonly number[]): number[] => {
  const pools: Pool[] = [];
  for (const value of values) {
    let last: Pool = { sum: value, count: 1 };
    for (
      let before = pools.at(-1);
      before !== undefined && meanOf(before) > meanOf(last);
      before = pools.at(-1)
    ) {
      pools.pop();
      last = { sum: before.sum + last.sum, count: before.count + last.count };
    }
    pools.push(last);
  }
  return pools.flatMap((pool) => Array.from({ length: pool.count }, () => meanOf(pool)));
};
