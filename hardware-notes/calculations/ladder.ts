import { elements } from '../../firmware-ts/board/reference-design';

/**
 * Largest gap between neighbouring settings that no set of parts inside the tolerance can exceed, milliohm.
 * Derived here: if every element is at most the sum of the smaller ones plus g, the sums leave no gap over g;
 * the worst corner for element k is k high and all smaller ones low. See tests/hardware/ladder.test.ts.
 */
export function guaranteedGapMilliohm(tolerancePercent: number): number {
  const high = 1 + tolerancePercent / 100;
  const low = 1 - tolerancePercent / 100;
  let smallerMilliohm = 0;
  let gapMilliohm = 0;
  for (const { nominalMilliohm } of elements) {
    gapMilliohm = Math.max(gapMilliohm, nominalMilliohm * high - smallerMilliohm * low);
    smallerMilliohm += nominalMilliohm;
  }
  return gapMilliohm;
}

/** Every sum a table of element values can make, ascending, milliohm. */
export function reachableMilliohm(table: readonly number[]): number[] {
  let sums = [0];
  for (const value of table) sums = sums.concat(sums.map((sum) => sum + value));
  return sums.sort((left, right) => left - right);
}

/** Largest gap between neighbouring sums, milliohm. */
export function largestGapMilliohm(table: readonly number[]): number {
  const sums = reachableMilliohm(table);
  let gapMilliohm = 0;
  for (let index = 1; index < sums.length; index += 1) {
    gapMilliohm = Math.max(gapMilliohm, sums[index]! - sums[index - 1]!);
  }
  return gapMilliohm;
}

/** The largest ratio of one element to the next smaller. */
export function largestRadix(): number {
  return Math.max(
    ...elements.slice(1).map((element, index) => element.nominalMilliohm / elements[index]!.nominalMilliohm),
  );
}

export const totalMilliohm = elements.reduce((sum, element) => sum + element.nominalMilliohm, 0);
