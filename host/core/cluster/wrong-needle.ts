/** Where a needle is expected, in the unit it is given in: middle, and how far from it nobody would wonder. */
export type Band = { readonly middle: number; readonly half: number };

export type OtherNeedle = { readonly id: string; readonly band: Band };

/** Readings a gauge's curve has to rest on before it says anything of the next one. */
export const FEWEST_READINGS = 4;

const isIn = (value: number, { middle, half }: Band): boolean => Math.abs(value - middle) <= half;
const distance = (value: number, { middle, half }: Band): number => Math.abs(value - middle) / half;

/**
 * The gauge that was probably read instead, or undefined: an answer is doubted only where it lies outside what this
 * gauge's own curve leads one to expect and inside what another needle in sight would show. Of several, the nearest.
 */
export const readInstead = (
  given: number,
  own: Band | undefined,
  others: readonly OtherNeedle[],
): string | undefined => {
  if (own === undefined || isIn(given, own)) return undefined;
  return others
    .filter(({ band }) => isIn(given, band))
    .sort((one, other) => distance(given, one.band) - distance(given, other.band))[0]?.id;
};
