import { rule } from '../check';
import type { Scenario } from '../check';
import { boxCases } from '../trips/box';
import { circuitCases } from '../trips/circuit';
import { spares, trips as tripsOver } from '../trips/case';

/** Every guard at its limit. */
const tripCases = [...circuitCases, ...boxCases];

/**
 * Two rules a guard: just over its limit it opens, tells code, measured value and limit, and stays open until cleared;
 * just inside it has nothing to say.
 */
export const trips: readonly Scenario[] = tripCases.flatMap((one) => [
  rule(`${one.fault}: opens ${one.when}`, () => tripsOver(one)),
  rule(`${one.fault}: leaves things as they are ${one.unless}`, () => spares(one)),
]);
