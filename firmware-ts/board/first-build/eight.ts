import type * as Full from '../reference-design';

const ELEMENTS = 8;

/**
 * What the first build has in place of the reference design: the eight smallest elements. Limiter and output keep their
 * bits and pins; the bits between have no contact, and a mask that names one is refused. Settings end where eight elements
 * end. Whatever protects is the same.
 */
export function eightElements(full: typeof Full) {
  const elements = full.elements.slice(0, ELEMENTS);
  const { limiterBypassMask, outputMask } = full.contactBits;
  const elementsMask = 2 ** ELEMENTS - 1;
  const allMask = elementsMask | limiterBypassMask | outputMask;
  // What parts at the low end of their 1 % still make, whole ohms.
  const sumOhm = elements.reduce((sum, { nominalMilliohm }) => sum + nominalMilliohm, 0) / 1000;
  const gpioFromContacts = (contactMask: number): number => (contactMask & allMask) << full.pins.elements[0];
  return {
    elements,
    contactBits: { elementsMask, limiterBypassMask, outputMask, allMask },
    limits: { ...full.limits, resistanceMaxMilliohm: Math.floor(0.99 * sumOhm) * 1000 },
    gpioFromContacts,
    relayGpioMask: gpioFromContacts(allMask),
    ladderMilliohm: (contactMask: number, tableMilliohm?: readonly number[]): number =>
      elements.reduce(
        (sum, { nominalMilliohm }, index) =>
          (contactMask >> index) & 1 ? sum : sum + (tableMilliohm?.[index] ?? nominalMilliohm),
        0,
      ),
  };
}
