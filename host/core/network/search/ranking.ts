/** A network found by a search: its score and its part values in the order of `Network.parts`. */
export type Found = { readonly score: number; readonly partsOhm: readonly number[] };

/** Keeps the best networks of one topology. Equal scores are ordered by their part values, so that no order of search shows. */
export type Ranking = {
  /** False when the person's drawer does not hold enough of a value. */
  readonly allows: (partsOhm: Float64Array) => boolean;
  readonly insert: (score: number, partsOhm: Float64Array) => void;
  /** Above this score a network cannot enter; Infinity until the list is full. */
  readonly ceiling: () => number;
  readonly found: () => readonly Found[];
};

const compareParts = (one: readonly number[], other: readonly number[]): number => {
  const at = one.findIndex((value, index) => value !== other[index]);
  return at < 0 ? 0 : one[at]! - other[at]!;
};

/** Order of two networks of one topology: score, then the lower part values. */
export const compareFound = (one: Found, other: Found): number =>
  one.score - other.score || compareParts(one.partsOhm, other.partsOhm);

/** How many of each value a person has; a value that is not listed is not there. */
export type Counts = ReadonlyMap<number, number>;

const withinCounts = (counts: Counts, partsOhm: Float64Array): boolean =>
  partsOhm.every(
    (value) =>
      partsOhm.reduce((uses, other) => uses + (other === value ? 1 : 0), 0) <= (counts.get(value) ?? 0),
  );

/** A further condition on the parts of a network, for example the current it would let into a tank. */
export type Permit = (partsOhm: Float64Array) => boolean;

/** A ranking of at most `size` networks; `counts` when parts come out of a drawer. */
export const newRanking = (size: number, counts?: Counts, permits?: Permit): Ranking => {
  const kept: Found[] = [];
  return {
    allows: (partsOhm) =>
      (counts === undefined || withinCounts(counts, partsOhm)) &&
      (permits === undefined || permits(partsOhm)),
    insert: (score, partsOhm) => {
      kept.push({ score, partsOhm: Array.from(partsOhm) });
      kept.sort(compareFound);
      if (kept.length > size) kept.length = size;
    },
    ceiling: () => (kept.length < size ? Infinity : kept[size - 1]!.score),
    found: () => kept,
  };
};
