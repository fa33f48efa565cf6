import type { Loaded } from './error-table';
import { loadedOhm } from './error-table';
import { seenOhm } from '../closed-form/network-law';

/** Pieces the band is cut into for the bound: it exceeds the true worst error by at most one piece's width. */
const PIECES = 1000;

/**
 * A bound on the error anywhere in the band, between the samples too, dial units. Between two values the monotone needle
 * stays between its readings at them, so the error stays between the crosswise differences.
 * Source: monotonicity of sender and needle; exceeds the true worst error by at most 1/1000 of the band.
 */
export const worstErrorAnywhere = (
  loaded: Loaded,
  band: { readonly from: number; readonly to: number },
): number => {
  const { gauge, network } = loaded;
  const shown = (value: number): number => gauge.reading(seenOhm(network, loadedOhm(loaded, value)));
  let worst = 0;
  let low = band.from;
  let atLow = shown(low);
  for (let piece = 1; piece <= PIECES; piece += 1) {
    const high = piece === PIECES ? band.to : band.from + ((band.to - band.from) * piece) / PIECES;
    const atHigh = shown(high);
    worst = Math.max(worst, Math.max(atLow, atHigh) - low, high - Math.min(atLow, atHigh));
    low = high;
    atLow = atHigh;
  }
  return worst;
};
