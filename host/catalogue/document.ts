import { explain } from '../job';
import { canonicalJson, isPlainlyCanonical, type Json } from './canonical';
import { card, CARD_SCHEMA, type Card } from './card';
import { statement, STATEMENT_SCHEMA, type Statement } from './statement';

/** A document as it was read; `newer`: a program of a later day made it, and this one keeps it without understanding it. */
export type ReadDocument =
  | { readonly kind: 'card'; readonly card: Card }
  | { readonly kind: 'statement'; readonly statement: Statement }
  | { readonly kind: 'newer'; readonly schema: string };

export type NoDocument = { readonly kind: 'bad'; readonly why: string };

/** The text of a document, which is what its hash is taken of. Keys without a value are left out. */
export const documentText = (document: Card | Statement): string => canonicalJson(asJson(document));

/** Schemas name only what JSON can hold; what is undefined is not there. */
export function asJson(value: unknown): Json {
  if (value === null || typeof value === 'string' || typeof value === 'boolean') return value;
  if (typeof value === 'number') return value;
  if (Array.isArray(value)) return value.map(asJson);
  if (typeof value !== 'object') throw new RangeError(`${typeof value} has no place in a document`);
  const kept = Object.entries(value).filter(([, each]) => each !== undefined);
  return Object.fromEntries(kept.map(([key, each]) => [key, asJson(each)]));
}

/**
 * Reads the text of a document. Bad: no JSON, not in canonical form (its hash would not be the hash of what it says), not
 * of a kind this catalogue keeps, or against its schema; `why` names the field.
 */
export function readDocument(body: string): ReadDocument | NoDocument {
  let found: unknown;
  try {
    found = JSON.parse(body);
    if (!isPlainlyCanonical(body, found) && canonicalJson(asJson(found)) !== body)
      return bad('it is not in canonical form (RFC 8785)');
  } catch (error) {
    return bad(error instanceof RangeError ? error.message : 'it is not JSON');
  }
  return readParsed(found);
}

/** The same of what is parsed already. */
function readParsed(found: unknown): ReadDocument | NoDocument {
  const schema = schemaOf(found);
  if (schema === CARD_SCHEMA) {
    const read = card.safeParse(found);
    return read.success ? { kind: 'card', card: read.data } : bad(explain(read.error));
  }
  if (schema === STATEMENT_SCHEMA) {
    const read = statement.safeParse(found);
    return read.success ? { kind: 'statement', statement: read.data } : bad(explain(read.error));
  }
  const newer = /^needlewright\/(?:card|statement|[a-z-]{1,40})\/\d{1,6}$/.exec(schema);
  return newer === null ? bad('it has no "schema" of this catalogue') : { kind: 'newer', schema };
}

const schemaOf = (found: unknown): string =>
  typeof found === 'object' && found !== null && 'schema' in found && typeof found.schema === 'string'
    ? found.schema
    : '';

const bad = (why: string): NoDocument => ({ kind: 'bad', why });
