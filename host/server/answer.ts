import type { FastifyReply } from 'fastify';
import type { z } from 'zod';
import type { Refused } from '../core/result';
import { refuse, statusOf } from '../refusals';
import { explain } from '../job/schema/explain';

/** Checks a body at the edge; a wrong one is answered with the place and the reason. */
export function checked<Schema extends z.ZodType>(schema: Schema, body: unknown): z.infer<Schema> | Refused {
  const result = schema.safeParse(body);
  return result.success ? result.data : refuse('BAD_REQUEST', { why: explain(result.error) });
}

/** The one place where a refusal becomes HTTP: an answer, with a status that programs can test. */
export async function answerWith(reply: FastifyReply, result: object): Promise<void> {
  await reply.code(isRefusal(result) ? statusOf(result.code) : 200).send(result);
}

const isRefusal = (result: object): result is { readonly code: string } =>
  'kind' in result && result.kind === 'refused' && 'code' in result && typeof result.code === 'string';

const LONGEST_NAME = 90;

/** A PDF file to take away; its name in letters that every file system and every header takes. */
export const sendPdf = (reply: FastifyReply, bytes: Uint8Array, name: string): FastifyReply =>
  reply
    .type('application/pdf')
    .header(
      'content-disposition',
      `attachment; filename="${name.replace(/[^\w.-]+/g, '-').slice(-LONGEST_NAME)}.pdf"`,
    )
    .send(Buffer.from(bytes));
