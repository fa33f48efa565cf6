import { z } from 'zod';
import { finite, name, positive, resistanceOhm, text } from './values';

/** What was done to the gauge itself, between as found and as left. */
export const adjustmentShape = {
  what: z.enum(['pointer-moved', 'stabiliser-set', 'shunt-turned', 'resistor-fitted', 'other']),
  /** How far the pointer was moved, in dial units: above zero = upscale. */
  movedBy: finite.optional(),
  /** What the stabiliser gives now. */
  setToVolt: positive.optional(),
  /** What the shunt was turned to, or the resistor that was fitted. */
  toOhm: resistanceOhm.optional(),
  /** Where: "in the gauge lead", "across the left coil". */
  place: name.optional(),
  remark: text.optional(),
};
