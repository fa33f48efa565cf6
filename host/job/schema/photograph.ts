import { z } from 'zod';
import { photographSubjects } from './photograph-subjects';
import { name } from './values';

/** What one job keeps. A dial can be read on 1,600 pixels; a page makes what is larger smaller before it sends it. */
export const PHOTOGRAPH_LIMITS = {
  mostBytes: 2 * 2 ** 20,
  mostSidePixel: 4_000,
  leastSidePixel: 120,
  mostInJob: 12,
} as const;

/** A picture that lies in the job's folder; the journal keeps which, of what, and a check of its bytes. */
export const photographShape = {
  photographId: name,
  /** A plain name: nothing of it leads out of the folder. */
  file: z
    .string()
    .regex(/^[A-Za-z0-9][\w-]{0,80}\.(?:jpg|png)$/, 'must be a plain name that ends in .jpg or .png'),
  sha256: z.string().regex(/^[0-9a-f]{64}$/, 'must be 64 hexadecimal digits'),
  of: z.enum(photographSubjects),
  title: name.optional(),
};
