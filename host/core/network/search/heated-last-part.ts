import { ohmAtRise, riseAt, throughLadder } from '../../at-work';
import type { Anchor, LeadSource } from '../../at-work';
import { parallelOhm } from '../closed-form/ladder-tree';
import type { Heat } from './heat';

/**
 * The last free part of a network, all others fixed; what the gauge sees rises with it (gain: falls), so each sample
 * allows an interval of the part.
 */
export type LastPart = 'in-series' | 'in-parallel' | 'gauge-gain';

/** The other parts: in the lead on the sender's side, and from there to ground (Infinity: none). */
export type Outer = { readonly armOhm: number; readonly shuntOhm: number };

/** The source that the sender sees through the other parts and the last one, ohm. Source: Thevenin. */
export const sourceThrough = (
  source: LeadSource,
  last: LastPart,
  outer: Outer,
  partOhm: number,
): LeadSource => {
  if (last === 'in-series') return throughLadder(source, partOhm, outer.shuntOhm, outer.armOhm);
  if (last === 'in-parallel') return throughLadder(source, 0, partOhm, outer.armOhm);
  return { volt: source.volt, ohm: parallelOhm(source.ohm, partOhm) + outer.armOhm };
};

/**
 * The last part, in its own measure (ohm in series, siemens in parallel, gain across the gauge), with which the gauge
 * sees exactly `edgeOhm`. That edge fixes gauge current and terminal volts, so the sender's state follows from one
 * equation, and the part from Kirchhoff's laws. A state beyond kappa = 1 is one that no permitted network reaches: the
 * answer is then on the side of every permitted part where it belongs (see runAwayAt).
 * Source: derived here; equal to brute force in tests/core/network/heated.test.ts.
 */
export const lastPartAt = (
  heat: Heat,
  place: Anchor,
  asked: { readonly last: LastPart; readonly outer: Outer; readonly edgeOhm: number },
): number => {
  const { last, outer, edgeOhm } = asked;
  const { volt, ohm } = heat.source;
  if (last === 'in-series') {
    if (edgeOhm === Infinity) return Infinity;
    const shared = 1 / outer.shuntOhm;
    const drive = { own: 1 + outer.armOhm * shared, shared, drive: volt / (ohm + edgeOhm) };
    const rise = riseAt(heat.curve, place, drive, heat.wattPerUnit);
    if (rise === Infinity) return -Infinity;
    return edgeOhm - parallelOhm(ohmAtRise(heat.curve, place, rise) + outer.armOhm, outer.shuntOhm);
  }
  if (edgeOhm <= 0) return last === 'in-parallel' ? Infinity : 0;
  const terminalVolt = edgeOhm === Infinity ? volt : (volt * edgeOhm) / (ohm + edgeOhm);
  const drive = { own: outer.armOhm, shared: 1, drive: terminalVolt };
  const rise = riseAt(heat.curve, place, drive, heat.wattPerUnit);
  if (rise === Infinity) return last === 'in-parallel' ? -Infinity : Infinity;
  const armOhm = ohmAtRise(heat.curve, place, rise) + outer.armOhm;
  return last === 'in-parallel' ? 1 / edgeOhm - 1 / armOhm : edgeOhm / armOhm;
};
