import type { Mechanism, TrimOptions } from './trim-options';

/** Mechanisms that need a ground terminal of their own. Source: behaviour table of the trade. */
export const threeTerminal = new Set<Mechanism>(['two-coil', 'cross-coil', 'electronic']);

/** True when the gauge has a ground terminal of its own: by its terminals, or by its mechanism where nobody counted. */
export const isKnownThreeTerminal = ({ terminals, mechanism }: TrimOptions): boolean =>
  terminals === undefined ? mechanism !== undefined && threeTerminal.has(mechanism) : terminals === 3;
