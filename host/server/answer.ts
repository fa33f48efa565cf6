import type { FastifyReply } from 'fastify';
import type { z } from 'zod';
import { isRefused, refuse, type Refused } from '../core/result';
import { explain } from '../job/schema/explain';

/** Checks a body at the edge; a wrong one is answered with the place and the reason. */
export function checked<Schema extends z.ZodType>(schema: Schema, body: unknown): z.infer<Schema> | Refused {
  const result = schema.safeParse(body);
  return result.success ? result.data : refuse('BAD_REQUEST', explain(result.error));
}

/** A refusal is an answer, with a status that programs can test. */
export async function answerWith(reply: FastifyReply, result: object): Promise<void> {
  const isRefusal = 'kind' in result && typeof result.kind === 'string' && isRefused({ kind: result.kind });
  await reply.code(isRefusal ? 422 : 200).send(result);
}
