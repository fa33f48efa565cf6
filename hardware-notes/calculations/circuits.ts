import {
  elements,
  groundLead,
  limits,
  path,
  type LadderElement,
} from '../../firmware-ts/board/reference-design';

/** A gauge as the box sees it: the open-circuit voltage and the resistance at the sender terminal. */
export type Circuit = { readonly name: string; readonly openVolt: number; readonly sourceOhm: number };

const twoCoil = (name: string, feedVolt: number, coilOhm: number): Circuit => ({
  name,
  openVolt: feedVolt / 2,
  sourceOhm: coilOhm / 2,
});

/**
 * The circuits the ratings are computed from. Heater, coil and pull-up values as found on old vehicles (common
 * practice; the 12.22 ohm heater follows from a published 225 mA at 10 ohm and 5 V). Stabilised feeds are given
 * by the voltage that heats; a stabiliser stuck closed passes the whole supply.
 */
export const soundCircuits: readonly Circuit[] = [
  { name: 'thermal, 5 V, 12.22 Ω heater', openVolt: 5, sourceOhm: 12.22 },
  { name: 'thermal, 10 V, 58 Ω heater', openVolt: 10, sourceOhm: 58 },
  twoCoil('two-coil, 90/90 Ω, 14.4 V', 14.4, 90),
  twoCoil('cross-coil node, 60/60 Ω, 14.4 V', 14.4, 60),
  { name: 'moving coil, 10 V, 500 Ω', openVolt: 10, sourceOhm: 500 },
  { name: 'electronic, 5 V, 1 kΩ pull-up', openVolt: 5, sourceOhm: 1000 },
  { name: 'electronic, 14.4 V, 410 Ω pull-up', openVolt: 14.4, sourceOhm: 410 },
];

export const faultyCircuits: readonly Circuit[] = [
  { name: 'thermal 12.22 Ω, stabiliser stuck at 14.4 V', openVolt: 14.4, sourceOhm: 12.22 },
  { name: 'thermal 58 Ω, stabiliser stuck at 14.4 V', openVolt: 14.4, sourceOhm: 58 },
  { name: 'SENDER clip on a bare 16 V feed', openVolt: 16, sourceOhm: 0.05 },
];

/** Resistance between the clips with every element shorted: fuse, output contact, fifteen bypasses, shunt, leads. */
export function floorOhm(contactMilliohm: number = path.contact.typicalMilliohm): number {
  const bypasses = (elements.length + 1) * (contactMilliohm / 2);
  const rest =
    path.fuse.coldMilliohm + contactMilliohm + path.shunt.milliohm + path.lead.milliohm + groundLead.milliohm;
  return (bypasses + rest) / 1000;
}

/** Current into a path of the given resistance, A. Source: Ohm's law. */
export const currentAmp = (circuit: Circuit, pathOhm: number): number =>
  circuit.openVolt / (circuit.sourceOhm + pathOhm);

/** Smallest path resistance the current limit allows on a circuit, ohm (0: even a dead short stays below it). */
export function lowestOhm(circuit: Circuit): number {
  return Math.max(0, circuit.openVolt / (limits.currentMaxMilliamp / 1000) - circuit.sourceOhm);
}

/**
 * Most power one element can take from a circuit when it is the whole path, W, with the current limit kept.
 * Source: P = V^2 R / (Rs + R)^2.
 */
export function elementWatt(circuit: Circuit, element: LadderElement): number {
  const ohm = element.nominalMilliohm / 1000;
  const amp = Math.min(currentAmp(circuit, ohm), limits.currentMaxMilliamp / 1000);
  return amp * amp * ohm;
}

/** The element that gets hottest on a circuit, with its power. */
export function hottestElement(circuit: Circuit): { readonly element: LadderElement; readonly watt: number } {
  let best = { element: elements[0]!, watt: -1 };
  for (const element of elements) {
    const watt = elementWatt(circuit, element);
    if (watt > best.watt) best = { element, watt };
  }
  return best;
}
