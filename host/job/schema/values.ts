import { z } from 'zod';

const LONGEST_TEXT = 4_000;
const LONGEST_NAME = 200;
/** Above this a resistance is an open circuit for every gauge of the trade; the box makes far less. */
const HIGHEST_OHM = 10_000_000;

/** Half of a surrogate pair is no text and cannot be written: it becomes the sign for what was lost. */
const LONE_SURROGATE = /[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;
const whole = (said: string): string => said.replace(LONE_SURROGATE, '\ufffd');

export const text = z.string().overwrite(whole).trim().min(1).max(LONGEST_TEXT);
/** One line: a title, a label, a name, an identifier. */
export const name = z
  .string()
  .overwrite(whole)
  .trim()
  .min(1)
  .max(LONGEST_NAME)
  .regex(/^[^\p{Cc}]*$/u, 'must be one line without control characters');
/** The name of a job's folder, exactly as it is on the disk: 255 bytes are the most that usual file systems take. */
export const folderName = z
  .string()
  .min(1)
  .max(255)
  .regex(/^[^\p{Cc}]*$/u, 'must be one line without control characters');
export const finite = z.number();
export const positive = z.number().positive();
export const notNegative = z.number().min(0);
export const resistanceOhm = z.number().min(0).max(HIGHEST_OHM);
export const count = z.number().int().min(0);
/** Position on the arc: 0 = the low end of the drawn scale, 1 = its high end; a stop may lie a little outside. */
export const angleFraction = z.number().min(-0.25).max(1.25);

/** A number a person typed in a unit that was not the dial's own: the unit, and what was typed under its field's name. */
export const given = z.strictObject({ unit: name, numbers: z.record(name, finite) });
export type Given = z.infer<typeof given>;

/** The direction the needle was moving when it was read: `up` = upscale. */
export const leg = z.enum(['up', 'down']);
export type Leg = z.infer<typeof leg>;

/** Which end stop the needle lay against. */
export const stopEnd = z.enum(['low', 'high']);
export type StopEnd = z.infer<typeof stopEnd>;
