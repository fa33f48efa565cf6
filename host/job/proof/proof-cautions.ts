import { DEFERS } from '../state/confirmations';
import type { Gauge } from '../schema/gauge';

type Method = 'run' | 'substituted';
type Quantity = Gauge['quantity'];

/**
 * What can hurt while a pair is taken. Source: common practice collected in the trade's safety rules (hot coolant,
 * moving parts, exhaust, petrol vapour, hot oil under pressure, moving vehicles).
 */
const RUNNING: Readonly<Record<Quantity, readonly string[]>> = {
  temperature: [
    'The reference goes in while the engine is cold. Hot coolant is under pressure and scalds: cap and hoses stay shut until it is cold again.',
    'Hands, leads and sleeves stay clear of fan and belts; an electric fan may start by itself. Run the engine where its exhaust gets away.',
    'If the reference comes near the limit of the engine, switch it off: no point is worth it. A needle that falls suddenly under load may mean lost coolant: stop.',
  ],
  fuel: [
    'Petrol vapour ignites. Fill with the ignition off, away from anything that can spark; nothing is drained and no tank is run dry for a point.',
    'Read with the vehicle level and the fuel at rest.',
  ],
  pressure: [
    'Fit the master gauge with the engine off and cool. At the first idle look for leaks; hot oil under pressure burns.',
    'Hands, leads and sleeves stay clear of fan and belts. Oil pressure is never lowered for a point: low pressure on the reference means engine off at once.',
  ],
  other: ['Hands, leads and sleeves stay clear of whatever moves or is hot.'],
};

const WIRE = 'Ignition off while the sender\u2019s wire is parted and joined.';
const SUBSTITUTED: Readonly<Record<Quantity, readonly string[]>> = {
  temperature: [WIRE, 'The engine stays off: nothing is heated for this point.'],
  fuel: [
    `${WIRE} Do it at the dash end only: the tank stays closed and nothing is parted at it.`,
    'Nothing is drained and no tank is run dry for this point.',
  ],
  pressure: [WIRE, 'The engine stays off: no oil pressure is lowered for this point.'],
  other: [WIRE],
};
const BURNS = 'A thermal gauge never gets less than the lowest ohms of its usual sender: it burns.';

const TRUST = 'The needle is no warning before it is proved. In a moving vehicle the passenger reads it.';

/** What can hurt most, in the one line that is always seen. */
const LINES: Readonly<Record<Method, Readonly<Record<Quantity, string>>>> = {
  run: {
    temperature: 'Hot coolant scalds, fans start by themselves: cap and hoses stay shut',
    fuel: 'Petrol vapour ignites: no tank is drained or run dry for a point',
    pressure: 'Hot oil under pressure burns: it is never lowered for a point',
    other: 'Stay clear of whatever moves or is hot',
  },
  substituted: {
    temperature: 'Ignition off while the wire is parted and joined; the engine stays off',
    fuel: 'Ignition off while the wire is parted and joined; the tank stays closed',
    pressure: 'Ignition off while the wire is parted and joined; the engine stays off',
    other: 'Ignition off while the wire is parted and joined',
  },
};

export const proofCautionLine = ({ quantity }: Pick<Gauge, 'quantity'>, method: Method): string =>
  LINES[method][quantity];

/** The cautions of one step of the proof, and who comes before this program. */
export const proofCautions = (
  { quantity, mechanism }: Pick<Gauge, 'quantity' | 'mechanism'>,
  method: Method,
): readonly string[] => {
  const ofStep = method === 'run' ? RUNNING[quantity] : SUBSTITUTED[quantity];
  const isHot = method === 'substituted' && (mechanism === 'thermal' || mechanism === 'unknown');
  return [...ofStep, ...(isHot ? [BURNS] : []), ...(method === 'run' ? [TRUST] : []), DEFERS];
};
