import { z } from 'zod';
import { name, notNegative } from './values';

const odometer = z.strictObject({ distance: notNegative, unit: z.enum(['km', 'mile']) });

/**
 * What a record is filed by: whose vehicle, who worked on it, which parts. Nothing is computed from it, and a change
 * replaces all of it.
 */
export const particulars = z.strictObject({
  customer: name.optional(),
  shop: name.optional(),
  technician: name.optional(),
  registration: name.optional(),
  odometer: odometer.optional(),
  gaugeSerialNumber: name.optional(),
  gaugePartNumber: name.optional(),
  /** Of the sender that is in the vehicle. */
  senderSerialNumber: name.optional(),
  senderPartNumber: name.optional(),
});
export type Particulars = z.infer<typeof particulars>;
