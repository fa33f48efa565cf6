import { z } from 'zod';
import { mismatchCauses, partingReadings } from '../../core/proof/mismatch';
import { finite, name, notNegative, resistanceOhm, text } from './values';

/** Why nothing may be chosen in Trim yet. */
const trimShutWhy = z.enum(['as-found', 'chain', 'fault-remains', 'finding']);
export type TrimShutWhy = z.infer<typeof trimShutWhy>;

const explanation = z.strictObject({
  causes: z.array(z.enum(mismatchCauses)).min(1),
  sizes: z.array(finite),
  alike: z.array(z.enum(mismatchCauses)),
});

export const chainShapes = {
  /** What gauge and sender together foretell of the as-found readings with a reference. Dial units. */
  tested: {
    senderId: name,
    pairs: z
      .array(
        z.strictObject({
          asFoundN: z.number().int().min(1),
          value: finite,
          indicated: finite,
          predicted: finite,
          senderOhm: resistanceOhm,
          score: notNegative,
        }),
      )
      .min(1),
    worstScore: notNegative,
    faultRemains: z.boolean(),
    couldMean: z.array(explanation),
    readNext: z.enum(partingReadings).optional(),
  },
  /** Somebody went on to Trim over a shut gate: who and when is the entry's own, and why is printed. */
  signed: { why: trimShutWhy, reason: text },
};
