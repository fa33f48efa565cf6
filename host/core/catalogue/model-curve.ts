import { columnAt, POSITIONS, type Axis, type Columns } from './columns';
import { meanAt, spreadOf, tauQuantile, type Specimen, type Spread } from './spread';

/** A curve of one specimen under the name of its card. */
export type NamedColumns = { readonly id: string; readonly columns: Columns };

/** A model as its specimens show it: mean, its uncertainty, and the spread of the next specimen about it. */
export type ModelCurve = {
  readonly from: number;
  readonly to: number;
  readonly mean: Float32Array;
  /** Standard uncertainty of the mean. */
  readonly uncertainty: Float32Array;
  readonly spread: Spread;
};

/** Places along the curve at which the spread is taken: it moves as one, so more say nothing new. */
const SPREAD_PLACES = 9;

/**
 * The mean curve of specimens, one being enough. `scale`: the usual spread of such parts.
 * Source: `spreadOf` at places along the curve, their log likelihoods averaged: neighbours tell the same.
 */
export function modelCurve(
  specimens: readonly Columns[],
  axis: Axis,
  scale: number,
  nodes?: number,
): ModelCurve {
  const [from, to] = [
    Math.min(...specimens.map((each) => each.from)),
    Math.max(...specimens.map((each) => each.to)),
  ];
  const spread = spreadAlong(specimens, { axis, scale, nodes });
  const tau = tauQuantile(spread, 0.5);
  const [mean, uncertainty] = [new Float32Array(POSITIONS), new Float32Array(POSITIONS)];
  for (let position = 0; position < POSITIONS; position += 1) {
    const found = meanAt(valuesAt(specimens, axis, position), specimens.length === 1 ? 0 : tau);
    mean[position] = found.mean;
    uncertainty[position] = Math.sqrt(found.variance);
  }
  return { from, to, mean, uncertainty, spread };
}

/** What the specimens show at a position: those measured there, or all where none was. */
function valuesAt(specimens: readonly Columns[], axis: Axis, position: number): Specimen[] {
  const here = specimens.filter((each) => isKnownAt(each, axis, position));
  return (here.length === 0 ? specimens : here).map(({ value, uncertainty }) => ({
    value: columnAt(value, position),
    uncertainty: columnAt(uncertainty, position),
  }));
}

/** Measured there, or less than a position beyond. */
export const isKnownAt = ({ from, to }: Columns, axis: Axis, position: number): boolean =>
  position > axis.index(from) - 1 && position < axis.index(to) + 1;

type Along = { readonly axis: Axis; readonly scale: number; readonly nodes: number | undefined };

function spreadAlong(specimens: readonly Columns[], { axis, scale, nodes }: Along): Spread {
  const [low, high] = [
    Math.max(0, Math.min(...specimens.map((each) => axis.index(each.from)))),
    Math.min(POSITIONS - 1, Math.max(...specimens.map((each) => axis.index(each.to)))),
  ];
  const places = Array.from(
    { length: SPREAD_PLACES },
    (_, i) => low + ((high - low) * i) / (SPREAD_PLACES - 1),
  );
  const spreads = places
    .map((place) => valuesAt(specimens, axis, place))
    .filter((values) => values.length === Math.max(2, specimens.length) || specimens.length === 1)
    .map((values) => spreadOf(values, scale, nodes));
  const [first] = spreads;
  if (first === undefined) return spreadOf(valuesAt(specimens, axis, (low + high) / 2), scale, nodes);
  const logs = first.nodes.map(
    (_, node) => spreads.reduce((sum, { nodes }) => sum + logOf(nodes[node]!.share), 0) / spreads.length,
  );
  return reshared(first, logs);
}

/** The same places of tau with other shares, given as logarithms. */
function reshared(spread: Spread, logs: readonly number[]): Spread {
  const best = Math.max(...logs);
  const weights = logs.map((log) => Math.exp(log - best));
  const total = weights.reduce((sum, each) => sum + each, 0);
  return { ...spread, nodes: spread.nodes.map((node, i) => ({ ...node, share: weights[i]! / total })) };
}

/** So many models say what the rest would. */
const MOST_POOLED = 100;
const POOL_NODES = 100;

/** How far specimens of one model usually differ, among parts of a kind. */
export type UsualSpread = { readonly tau: number; readonly models: number };

/**
 * The spread that models of one kind share, from those with two specimens or more; `start` where there is none. One tau
 * for all of them, its prior a half-Cauchy about `start`: the median of what is left. Source: as `spreadOf`, the likelihoods
 * of independent models multiplied.
 */
export function usualSpread(models: readonly (readonly Columns[])[], axis: Axis, start: number): UsualSpread {
  const telling = models.filter((specimens) => specimens.length > 1).slice(0, MOST_POOLED);
  const [first, ...others] = telling.map((each) =>
    spreadAlong(each, { axis, scale: start, nodes: POOL_NODES }),
  );
  if (first === undefined) return { tau: start, models: 0 };
  const logs = first.nodes.map(({ share }, node) =>
    others.reduce((sum, { nodes }) => sum + logOf(nodes[node]!.share), logOf(share)),
  );
  return { tau: tauQuantile(reshared(first, logs), 0.5), models: telling.length };
}

const logOf = (share: number): number => Math.log(share + Number.MIN_VALUE);
