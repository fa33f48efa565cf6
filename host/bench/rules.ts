import type { JobKind } from '../../protocol';
import type { Gauge, Mechanism } from '../job';

export { settleMsOf } from '../job/state/settling';

const BOX_KIND: Readonly<Record<Mechanism, JobKind>> = {
  thermal: 'thermal',
  'two-coil': 'magnetic',
  'cross-coil': 'magnetic',
  'moving-coil': 'magnetic',
  electronic: 'electronic',
  unknown: 'unknown',
};

/**
 * The kind of job the box is armed for. A thermal fuel gauge gets the tank's limits, in the car and on the bench alike,
 * although the tank is off the wire: a lead put back too early must not matter, and no such gauge needs more. A fuel
 * gauge of unknown mechanism stays `unknown`, which is tighter in every limit; magnetic and electronic ones are allowed
 * no more current than a tank.
 */
export const boxKindOf = ({ mechanism, quantity }: Gauge): JobKind =>
  quantity === 'fuel' && mechanism === 'thermal' ? 'fuel' : BOX_KIND[mechanism];

/** Resistance at the low and at the high end of the dial. */
export type Family = { readonly lowEndOhm: number; readonly highEndOhm: number };

/** What is tried when nobody knows better. Common practice, no source: ranges in circulation, wide on purpose. */
const USUAL_FAMILY: Readonly<Record<Gauge['quantity'], Family>> = {
  temperature: { lowEndOhm: 700, highEndOhm: 22 },
  fuel: { lowEndOhm: 250, highEndOhm: 10 },
  pressure: { lowEndOhm: 10, highEndOhm: 240 },
  other: { lowEndOhm: 500, highEndOhm: 10 },
};

export const usualFamilyOf = (gauge: Gauge): Family => gauge.family ?? USUAL_FAMILY[gauge.quantity];

/** Nobody has looked at the needle for this long after it was asked: the output opens and the sweep pauses. */
export const UNATTENDED_MS = 180_000;
export { ABSENT_MS } from '../job/wire/attendance';
/** The electric current must stand still this long before "read now". */
export const STEADY_WINDOW_MS = 3_000;
/** A current that will not settle is told, and read all the same, after this much extra time. */
export const EXTRA_SETTLE_MS = 30_000;
/** The box proves with its limiter that a setting is bearable; without any current it never can. */
export const PROVING_MS = 15_000;
/** Opened this much before the box would trip for time at low resistance. */
export const LOW_MARGIN_MS = 500;

/** The bench signs its own events with this name. */
export const BENCH = 'bench';
