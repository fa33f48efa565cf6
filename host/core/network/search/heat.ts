import { anchorAt, driveOf, ohmAtRise, riseAt, throughLadder } from '../../at-work';
import type { Anchor, DissipationFactor, HotCurve, LeadSource, Place } from '../../at-work';
import { parallelOhm } from '../closed-form/ladder-tree';
import type { Network } from '../closed-form/topology';

/** The sender's own heat, counted: what drives it, how its resistance follows, what it sheds for each dial unit. */
export type Heat = {
  readonly curve: HotCurve;
  readonly source: LeadSource;
  readonly factor: DissipationFactor;
  readonly wattPerUnit: number;
  /** The least resistor across the gauge with which the sender cannot run away, ohm. */
  readonly leastAcrossOhm: number;
  /** The samples of the question, and the sender's ohms there without any resistor: no resistors around it make it hotter. */
  readonly anchors: readonly Anchor[];
  readonly hottestOhm: Float64Array;
};

/** The source that the sender sees through a network. Source: Thevenin, step by step. */
export const sourceThrough = (network: Network, source: LeadSource): LeadSource => {
  const ohms = network.parts.map((part) => part.resistanceOhm);
  switch (network.topology) {
    case 'none':
      return source;
    case 'series':
      return throughLadder(source, ohms[0]!, Infinity, 0);
    case 'shunt':
      return throughLadder(source, 0, ohms[0]!, 0);
    case 'shunt-then-series':
      return throughLadder(source, ohms[0]!, ohms[1]!, 0);
    case 'series-then-shunt':
      return throughLadder(source, 0, ohms[1]!, ohms[0]!);
    case 'three-resistor':
      return throughLadder(source, ohms[0]!, ohms[1]!, ohms[2]!);
    case 'gauge-shunt':
      return { volt: source.volt, ohm: parallelOhm(source.ohm, ohms[0]!) + (ohms[1] ?? 0) };
  }
};

/** How the circuit may differ from the usual: another dissipation factor (W a dial unit), another supply. */
export type Otherwise = { readonly wattPerUnit?: number; readonly supplyRatio?: number };

/** By how much the sender is warmer than what it measures, dial units; no more than it can be followed. */
export const riseWith = (heat: Heat, network: Network, place: Place, otherwise: Otherwise = {}): number => {
  const { volt, ohm } = sourceThrough(network, heat.source);
  const drive = driveOf({ volt: volt * (otherwise.supplyRatio ?? 1), ohm });
  return riseAt(heat.curve, anchorAt(heat.curve, place), drive, otherwise.wattPerUnit ?? heat.wattPerUnit);
};

/**
 * Resistance of the sender in its circuit, with a network around it; without heat that of an ohmmeter.
 * Source: fixed point r = r(T + P(r) / delta), riseAt.
 */
export const workingOhm = (
  heat: Heat | undefined,
  network: Network,
  place: Place,
  otherwise: Otherwise = {},
): number =>
  heat === undefined
    ? place.coldOhm
    : ohmAtRise(heat.curve, anchorAt(heat.curve, place), riseWith(heat, network, place, otherwise));
