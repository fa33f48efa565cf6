import type { FastifyInstance, FastifyRequest } from 'fastify';
import { z } from 'zod';
import type { CatalogueAsk, SaidOfCard, TableGiven } from '../job/wire/catalogue-messages';
import { quantity } from '../job/schema/gauge';
import { finite, folderName, name, resistanceOhm, text } from '../job/schema/values';
import type { Refused } from '../core/result';
import { MOST_TABLE_BYTES } from '../core/text/file-text';
import { refuse } from '../refusals';
import type { PartMeant } from '../store/catalogue';
import { answerWith, checked } from './answer';
import type { RouteParts } from './route-parts';

const jobPath = z.object({ jobId: folderName });
const keepBody = z.strictObject({ model: name.optional() });

const MOST_POINTS = 40;
const MOST_WORDS = 200;
const askShape = z.strictObject({
  kind: z.enum(['gauge', 'sender']),
  unit: name,
  points: z.array(z.strictObject({ resistanceOhm, value: finite })).max(MOST_POINTS),
  words: z.string().max(MOST_WORDS),
  quantity: quantity.optional(),
  withSimulated: z.boolean(),
}) satisfies z.ZodType<CatalogueAsk>;

const MOST_TABLES = 50;
/** Line ends and quotes take two bytes in JSON. */
const MOST_TABLES_BODY_BYTES = 2 * MOST_TABLE_BYTES;
const tablesBody = z.strictObject({
  tables: z
    .array(
      z.strictObject({
        from: name.optional(),
        text: z.string().max(MOST_TABLE_BYTES),
        replaces: name.optional(),
      }) satisfies z.ZodType<TableGiven>,
    )
    .min(1)
    .max(MOST_TABLES),
  keep: z.strictObject({ model: name.optional() }).optional(),
});

const demoBody = z.strictObject({ remove: z.boolean().default(false) });

const saidBody = z.discriminatedUnion('says', [
  z.strictObject({ says: z.literal('withdrawn'), card: name, reason: text }),
  z.strictObject({ says: z.literal('replaced'), card: name, by: name, reason: text }),
  z.strictObject({ says: z.literal('apart'), card: name }),
]) satisfies z.ZodType<SaidOfCard>;

const partQuery = z.strictObject({ simulated: z.literal('true').optional() });
const partPath = z.object({ kind: z.enum(['model', 'card']), name });

/** A job and the catalogue of this host: what it has of the job, keeping its curves, and finding parts again. */
export function catalogueRoutes(app: FastifyInstance, { catalogue }: RouteParts): void {
  const jobOf = (request: FastifyRequest): string => jobPath.safeParse(request.params).data?.jobId ?? '';
  app.get('/api/jobs/:jobId/catalogue', async (request, reply) =>
    answerWith(reply, await catalogue.lookUp(jobOf(request))),
  );
  app.post('/api/jobs/:jobId/catalogue', async (request, reply) => {
    const asked = checked(keepBody, request.body);
    return answerWith(reply, 'kind' in asked ? asked : await catalogue.keep(jobOf(request), asked.model));
  });
  app.get('/api/jobs/:jobId/catalogue/senders', async (request, reply) =>
    answerWith(reply, await catalogue.sendersForJob(jobOf(request))),
  );
  // A question changes nothing, so that a screen that only watches may ask it: hence no POST.
  app.get('/api/catalogue/find', async (request, reply) => {
    const asked = askFrom(request.query);
    return answerWith(reply, 'code' in asked ? asked : await catalogue.find(asked));
  });
  app.post('/api/catalogue/tables', { bodyLimit: MOST_TABLES_BODY_BYTES }, async (request, reply) => {
    const asked = checked(tablesBody, request.body);
    if ('code' in asked) return answerWith(reply, asked);
    const keep = asked.keep === undefined ? undefined : { model: asked.keep.model };
    return answerWith(reply, await catalogue.tables(asked.tables, keep));
  });
  app.post('/api/catalogue/demo', async (request, reply) => {
    const asked = checked(demoBody, request.body ?? {});
    if ('code' in asked) return answerWith(reply, asked);
    return answerWith(reply, await (asked.remove ? catalogue.removeDemo() : catalogue.takeDemo()));
  });
  app.get('/api/catalogue/:kind/:name', async (request, reply) => {
    const meant = partFrom(request);
    return answerWith(reply, 'code' in meant ? meant : await catalogue.part(meant));
  });
  app.post('/api/catalogue/:kind/:name', async (request, reply) => {
    const meant = partFrom(request);
    if ('code' in meant) return answerWith(reply, meant);
    const said = checked(saidBody, request.body);
    return answerWith(reply, 'code' in said ? said : await catalogue.say(meant, said));
  });
  app.get('/api/catalogue/:kind/:name/senders', async (request, reply) => {
    const meant = partFrom(request);
    return answerWith(reply, 'code' in meant ? meant : await catalogue.sendersForPart(meant));
  });
}

function partFrom(request: FastifyRequest): PartMeant | Refused {
  const path = partPath.safeParse(request.params).data;
  if (path === undefined) return refuse('NOT_FOUND', { isJob: false });
  const query = checked(partQuery, request.query);
  return 'code' in query ? query : { ...path, withSimulated: query.simulated === 'true' };
}

const askQuery = z.strictObject({ ask: z.string() });

function askFrom(query: unknown): CatalogueAsk | Refused {
  const asked = checked(askQuery, query);
  if ('code' in asked) return asked;
  return checked(askShape, jsonOf(asked.ask));
}

/** What is no JSON is refused by the schema. */
function jsonOf(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
