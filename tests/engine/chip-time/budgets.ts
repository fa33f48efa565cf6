import type { Figures } from './figures';

/**
 * What a turn and a request may cost, in computrons, so that at 1.28 us each (see chip.ts) a turn fits its eight
 * milliseconds, and how long pulse and meter may stand still, ms. The hardware needs a pulse every 50 ms at least, the guard
 * a reading every 60 ms.
 */
export const budgets: readonly (readonly [name: keyof Figures, atMost: number])[] = [
  ['medianTurn', 4_500],
  ['longestTurn', 9_000],
  ['longestRequest', 16_000],
  ['longestPulseGapMs', 45],
  ['oldestMeterMs', 45],
];
