import { z } from 'zod';
import { topologies } from '../../core/network';
import { finite, name, notNegative, positive, resistanceOhm } from './values';

export const trimOptions = z.strictObject({
  senderId: name,
  from: finite.optional(),
  to: finite.optional(),
  series: z.enum(['E6', 'E12', 'E24', 'E48', 'E96']).optional(),
  tolerancePercent: positive.optional(),
  maxParts: z.number().int().min(0).max(3).optional(),
  supplyVolt: positive.optional(),
  gaugeOhm: positive.optional(),
  stockOhm: z.array(positive).optional(),
  weights: z.array(z.strictObject({ reading: finite, weight: notNegative })).optional(),
});
export type TrimOptions = z.infer<typeof trimOptions>;

/** The network a person chose, as it is to be built; errors in dial units. */
export const trimCandidate = z.strictObject({
  topology: z.enum(topologies),
  parts: z.array(
    z.strictObject({
      place: name,
      resistanceOhm,
      tolerancePercent: notNegative.optional(),
      powerWatt: notNegative.optional(),
      ratingWatt: notNegative.optional(),
    }),
  ),
  worstError: finite,
  rmsError: notNegative.optional(),
});
export type TrimCandidate = z.infer<typeof trimCandidate>;
