import type { Network } from './topology';

/** The passive network around the sender as series and parallel pieces; `part` counts as in `Network.parts`. */
export type Tree =
  | { readonly kind: 'sender' }
  | { readonly kind: 'part'; readonly part: number }
  | { readonly kind: 'series' | 'parallel'; readonly first: Tree; readonly second: Tree };

/** Share of the total power (equally d ln R / d ln r) that each element takes. */
export type PowerShares = { readonly sender: number; readonly parts: readonly number[] };

const sender: Tree = { kind: 'sender' };
const part = (index: number): Tree => ({ kind: 'part', part: index });
const series = (first: Tree, second: Tree): Tree => ({ kind: 'series', first, second });
const parallel = (first: Tree, second: Tree): Tree => ({ kind: 'parallel', first, second });

/** The pieces between the gauge's sender terminal and ground; a resistor across the gauge is not one of them. */
export const treeOf = (network: Network): Tree => {
  switch (network.topology) {
    case 'none':
      return sender;
    case 'series':
      return series(sender, part(0));
    case 'shunt':
      return parallel(sender, part(0));
    case 'shunt-then-series':
      return series(parallel(sender, part(1)), part(0));
    case 'series-then-shunt':
      return parallel(series(sender, part(0)), part(1));
    case 'three-resistor':
      return series(parallel(series(sender, part(2)), part(1)), part(0));
    case 'gauge-shunt':
      return network.parts.length > 1 ? series(sender, part(1)) : sender;
  }
};

/** Two resistances in parallel, ohm; 0 is a short, Infinity an open. */
export const parallelOhm = (firstOhm: number, secondOhm: number): number => {
  if (firstOhm === 0 || secondOhm === 0) return 0;
  if (firstOhm === Infinity) return secondOhm;
  if (secondOhm === Infinity) return firstOhm;
  return (firstOhm * secondOhm) / (firstOhm + secondOhm);
};

/** Resistance of the pieces for one sender resistance, ohm; elements may be shorted (0) or open (Infinity). */
export const treeOhm = (tree: Tree, partsOhm: readonly number[], senderOhm: number): number => {
  switch (tree.kind) {
    case 'sender':
      return senderOhm;
    case 'part':
      return partsOhm[tree.part] ?? Number.NaN;
    case 'series':
      return treeOhm(tree.first, partsOhm, senderOhm) + treeOhm(tree.second, partsOhm, senderOhm);
    case 'parallel':
      return parallelOhm(treeOhm(tree.first, partsOhm, senderOhm), treeOhm(tree.second, partsOhm, senderOhm));
  }
};

/** Of the power that enters two pieces, the fraction that the first takes; 1/2 where the split is undefined. */
const firstFraction = (kind: 'series' | 'parallel', firstOhm: number, secondOhm: number): number => {
  if (firstOhm === secondOhm) return 0.5;
  if (kind === 'series') return firstOhm === Infinity ? 1 : firstOhm / (firstOhm + secondOhm);
  return firstOhm === 0 ? 1 : secondOhm === Infinity ? 1 : secondOhm / (firstOhm + secondOhm);
};

/**
 * Power shares of all elements; they add up to 1.
 * Source: Tellegen's theorem on a resistive one-port, d ln R / d ln r_i = P_i / P; checked in network-law.test.ts.
 */
export const powerShares = (tree: Tree, partsOhm: readonly number[], senderOhm: number): PowerShares => {
  const parts = partsOhm.map(() => 0);
  let ofSender = 0;
  const walk = (piece: Tree, share: number): void => {
    if (piece.kind === 'sender') ofSender += share;
    else if (piece.kind === 'part') parts[piece.part] = (parts[piece.part] ?? 0) + share;
    else {
      const first = treeOhm(piece.first, partsOhm, senderOhm);
      const second = treeOhm(piece.second, partsOhm, senderOhm);
      const fraction = firstFraction(piece.kind, first, second);
      walk(piece.first, share * fraction);
      walk(piece.second, share * (1 - fraction));
    }
  };
  walk(tree, 1);
  return { sender: ofSender, parts };
};
