import { z } from 'zod';
import { folderName, name } from './values';

/** A picture that lies in the job's folder; the journal keeps which, of what, and a check of its bytes. */
export const photographShape = {
  photographId: name,
  file: folderName,
  sha256: z.string().regex(/^[0-9a-f]{64}$/, 'must be 64 hexadecimal digits'),
  of: z.enum(['vehicle', 'gauge', 'sender', 'wiring', 'as-found', 'as-left', 'other']),
  title: name.optional(),
};
