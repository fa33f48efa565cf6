import { z } from 'zod';
import { name, text } from '../job/schema/values';

export const STATEMENT_SCHEMA = 'needlewright/statement/1';

/** SHA-256 of a document, as hex. */
const documentHash = z.string().regex(/^[0-9a-f]{64}$/, 'must be a SHA-256 of 64 hex digits');

const about = z.array(documentHash).min(1).max(1_000);
const common = {
  schema: z.literal(STATEMENT_SCHEMA),
  reason: text.optional(),
  at: z.iso.datetime(),
  licence: z.literal('private').optional(),
};

/** A later remark about cards. Nothing is ever changed: what counts is read off all remarks, the newest last. */
export const statement = z.discriminatedUnion('says', [
  z.strictObject({ ...common, says: z.literal('belongs-to-model'), about, model: name }),
  z.strictObject({ ...common, says: z.literal('model-also-called'), model: name, also: name }),
  z.strictObject({ ...common, says: z.literal('same-specimen'), about: about.min(2) }),
  z.strictObject({ ...common, says: z.literal('other-specimens'), about }),
  z.strictObject({ ...common, says: z.literal('supersedes'), about, by: documentHash }),
  z.strictObject({ ...common, says: z.literal('withdrawn'), about, reason: text }),
]);
export type Statement = z.infer<typeof statement>;

/** What is private about a card: kept on this machine, erased for good on demand, never part of a document. */
export const slip = z.strictObject({
  owner: name.optional(),
  registration: name.optional(),
  technician: name.optional(),
  serial_number: name.optional(),
  price: name.optional(),
  note: text.optional(),
});
export type Slip = z.infer<typeof slip>;
