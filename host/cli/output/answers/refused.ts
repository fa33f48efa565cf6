import { z } from 'zod';
import { trimRefusedFields } from './network';
import { reasonShape } from './shared';

/** What any command answers where it understood and could not (exit 3); what some tell beside the reason. */
export const refusedShape = z.strictObject({
  schema: z.literal('needlewright/refused/1'),
  refused: reasonShape,
  ...trimRefusedFields,
  /** Of `catalogue verify`. */
  documents: z.number().optional(),
  fitted: z.number().optional(),
  faults: z.array(z.string()).optional(),
  /** Documents of the catalogue that wait for the server (`catalogue sync`). */
  waiting: z.number().optional(),
});
