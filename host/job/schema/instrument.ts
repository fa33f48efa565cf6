import { z } from 'zod';
import { name, notNegative, positive } from './values';

/** Where a number came from. */
export const source = z.enum(['box', 'person', 'datasheet', 'import']);

/**
 * The meter that a typed resistance was measured with. Its limits are those of its data sheet; readings of one meter
 * share its errors, so it is known by its name. `leadsOhm`: what it showed with the leads shorted, taken off already.
 */
export const ohmmeter = z.strictObject({
  name,
  limitPercent: positive.max(100).optional(),
  limitOhm: notNegative.optional(),
  leadsOhm: notNegative.optional(),
});
export type Ohmmeter = z.infer<typeof ohmmeter>;

/** Where the volts that go with a reading were measured: at the gauge's own feed terminal, or at the battery. */
export const supplyAt = z.enum(['feed', 'battery']);
export type SupplyAt = z.infer<typeof supplyAt>;
