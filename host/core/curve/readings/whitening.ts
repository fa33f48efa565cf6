import { choleskyFactor, forwardSubstitute } from '../../numeric/cholesky';
import type { Observations, Row } from './observations';
import { scatterBehind, sharedRounding } from './reading-step';

/**
 * Readings at one setting of the box share most of their rounding error, so three equal readings are not three pieces
 * of knowledge. A whitening turns the residuals of a setting into independent ones of the same total scatter.
 */
export type Whitening = {
  readonly blocks: readonly Block[];
  /** Scatter of repeats about their mean, with its degrees of freedom. */
  readonly within: { readonly variance: number; readonly degreesOfFreedom: number };
  /** How many independent readings all of them are worth: from one per setting up to all of them. */
  readonly effectiveCount: number;
  /** The part of the repeats that counts: 0 when they only repeat the rounding, 1 when they are independent. */
  readonly repeatsWorth: number;
};

type Block = {
  readonly rows: readonly number[];
  readonly factor: readonly (readonly number[])[];
  /** Unit vector, among whitened residuals, of an error that all rows of the setting share. */
  readonly common: readonly number[];
  readonly effectiveCount: number;
};

/** A correlation of one would make a block singular. */
const MOST_SHARED = 0.98;

/** Builds the whitening from the scatter of repeats and the reading step. Source: derived here, see `sharedRounding`. */
export function whiteningOf(observations: Observations, half: number): Whitening {
  const { fitted, step, expectedScatter } = observations;
  const settings = blocksOf(fitted);
  const within = withinScatter(fitted, settings, half);
  // Without repeats the expectation stands in for them.
  const known = within.degreesOfFreedom > 0 ? within.variance : expectedScatter ** 2;
  const scatter = scatterBehind(step, known);
  const total = known + sharedRounding(step, scatter, 0);
  const shared = (apart: number): number =>
    total > 0 ? Math.min(MOST_SHARED, Math.max(0, sharedRounding(step, scatter, apart) / total)) : 0;
  // Two readings lie on one leg, on none and one, or on the two legs.
  const byApart = [0, 1, 2].map((apart) => shared(apart * half));
  const blocks = settings.map((rows) => blockOf(fitted, rows, (apart) => byApart[Math.abs(apart)]!));
  const effectiveCount = blocks.reduce((sum, block) => sum + block.effectiveCount, 0);
  const repeats = fitted.length - blocks.length;
  return {
    blocks,
    within,
    effectiveCount,
    repeatsWorth: repeats === 0 ? 1 : Math.min(1, Math.max(0, (effectiveCount - blocks.length) / repeats)),
  };
}

function blockOf(
  fitted: readonly Row[],
  rows: readonly number[],
  shared: (legsApart: number) => number,
): Block {
  const factor = factorOf(fitted, rows, shared);
  const ones = forwardSubstitute(
    factor,
    rows.map(() => 1),
  );
  // |L^-1 1|^2 = 1'C^-1 1, the weight of the mean: the number of independent readings that would fix it as well.
  const effectiveCount = ones.reduce((sum, value) => sum + value * value, 0);
  return { rows, factor, common: ones.map((value) => value / Math.sqrt(effectiveCount)), effectiveCount };
}

function factorOf(
  fitted: readonly Row[],
  rows: readonly number[],
  shared: (legsApart: number) => number,
): number[][] {
  const correlation = rows.map((i) =>
    rows.map((j) => (i === j ? 1 : shared(fitted[i]!.legSign - fitted[j]!.legSign))),
  );
  // Opposite legs share a little less than their own leg does, which keeps the matrix positive definite.
  return choleskyFactor(correlation) ?? rows.map((_, i) => rows.map((__, j) => (i === j ? 1 : 0)));
}

function blocksOf(fitted: readonly Row[]): number[][] {
  const blocks = new Map<number, number[]>();
  fitted.forEach((row, i) => blocks.set(row.setting, [...(blocks.get(row.setting) ?? []), i]));
  return [...blocks.values()];
}

/** Repeats on one leg are the better witnesses, once there are this many to spare. */
const ENOUGH_REPEATS = 6;

/** Scatter of repeats: on one leg when there are enough, else of all readings of a setting, the legs brought together. */
function withinScatter(
  fitted: readonly Row[],
  settings: readonly (readonly number[])[],
  half: number,
): Whitening['within'] {
  const sameLeg = settings.flatMap((rows) =>
    [-1, 0, 1]
      .map((sign) => rows.filter((i) => fitted[i]!.legSign === sign))
      .filter((rows) => rows.length > 0),
  );
  const repeats = spreadWithin(fitted, sameLeg, 0);
  if (repeats.degreesOfFreedom >= ENOUGH_REPEATS) return repeats;
  return spreadWithin(fitted, settings, half);
}

function spreadWithin(
  fitted: readonly Row[],
  groups: readonly (readonly number[])[],
  half: number,
): Whitening['within'] {
  let sum = 0;
  // The half difference of the legs was itself taken from these readings.
  let degrees = half === 0 ? 0 : -1;
  for (const rows of groups) {
    const values = rows.map(
      (i) => (fitted[i]!.reading - half * fitted[i]!.legSign) / fitted[i]!.relativeScatter,
    );
    const mean = values.reduce((total, value) => total + value, 0) / values.length;
    sum += values.reduce((total, value) => total + (value - mean) ** 2, 0);
    degrees += values.length - 1;
  }
  return degrees > 0
    ? { variance: sum / degrees, degreesOfFreedom: degrees }
    : { variance: 0, degreesOfFreedom: 0 };
}

/**
 * Sum of squares of whitened residuals that speaks for the scatter between settings: what a setting's rows share counts
 * fully, their differences as far as repeats are worth anything. Otherwise three equal readings would vouch for a
 * scatter of zero. Source: derived here.
 */
export function effectiveSum({ blocks, repeatsWorth }: Whitening, white: ArrayLike<number>): number {
  let sum = 0;
  for (const { rows, common } of blocks) {
    let along = 0;
    let square = 0;
    rows.forEach((i, k) => {
      along += common[k]! * white[i]!;
      square += white[i]! ** 2;
    });
    sum += along * along + repeatsWorth * Math.max(0, square - along * along);
  }
  return sum;
}

/** Applies a whitening to one value per fitted row. Source: L^-1 r, block by block, forward substitution in place. */
export function whiten(whitening: Whitening, values: Float64Array): Float64Array {
  const out = Float64Array.from(values);
  for (const { rows, factor } of whitening.blocks) {
    if (rows.length === 1) continue;
    for (let i = 0; i < rows.length; i += 1) {
      const row = factor[i]!;
      let sum = values[rows[i]!]!;
      for (let k = 0; k < i; k += 1) sum -= row[k]! * out[rows[k]!]!;
      out[rows[i]!] = sum / row[i]!;
    }
  }
  return out;
}
