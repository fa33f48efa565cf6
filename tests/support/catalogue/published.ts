import type { Specimen } from '../../../host/core/catalogue/spread';

/**
 * Cases and persons of 13 trials, vaccinated and not. Source: Colditz et al., JAMA 271 (1994) 698-702, as
 * reprinted in meta-analysis text books.
 */
const TRIALS: readonly (readonly [number, number, number, number])[] = [
  [4, 123, 11, 139],
  [6, 306, 29, 303],
  [3, 231, 11, 220],
  [62, 13598, 248, 12867],
  [33, 5069, 47, 5808],
  [180, 1541, 372, 1451],
  [8, 2545, 10, 629],
  [505, 88391, 499, 88391],
  [29, 7499, 45, 7277],
  [17, 1716, 65, 1665],
  [186, 50634, 141, 27338],
  [5, 2498, 3, 2341],
  [27, 16913, 29, 17854],
];
/** ln of the risk ratio, and its variance: 1/a - 1/n1 + 1/c - 1/n2. */
export const vaccineTrials: Specimen[] = TRIALS.map(([a, n1, c, n2]) => ({
  value: Math.log(a / n1 / (c / n2)),
  uncertainty: Math.sqrt(1 / a - 1 / n1 + 1 / c - 1 / n2),
}));
