import type { Refused } from '../../core/result';
import { refuse } from '../../refusals';
import { CatalogueTrouble } from './sqlite';

/** The one door to the PostgreSQL library: no other file knows which it is. */
export type Postgres = {
  readonly rows: (sql: string, values?: readonly unknown[]) => Promise<readonly (readonly unknown[])[]>;
  readonly close: () => Promise<void>;
};

/** A server that does not answer is gone: a bench works on without it. */
const CONNECT_MS = 10_000;
const ANSWER_MS = 60_000;

/** Connects by an address such as postgres://name@host/catalogue. Throws CatalogueTrouble (SYNC_SERVER). */
export async function openPostgres(address: string): Promise<Postgres> {
  const { default: pg } = await import('pg');
  const client = new pg.Client({
    connectionString: address,
    connectionTimeoutMillis: CONNECT_MS,
    query_timeout: ANSWER_MS,
  });
  // A connection that breaks while nobody asks anything is told by the next question.
  client.on('error', () => undefined);
  await guarded(() => client.connect());
  return {
    rows: (sql, values = []) =>
      guarded(
        async () =>
          (await client.query<unknown[]>({ text: sql, values: [...values], rowMode: 'array' })).rows,
      ),
    close: () => client.end().catch(() => undefined),
  };
}

async function guarded<Result>(work: () => Promise<Result>): Promise<Result> {
  try {
    return await work();
  } catch (error) {
    throw new CatalogueTrouble(serverRefusal(error), error);
  }
}

/** The address is not told: it may hold a password. */
const serverRefusal = (error: unknown): Refused =>
  refuse('SYNC_SERVER', {
    why: (error instanceof Error ? error.message : String(error)).split('\n')[0] ?? '',
  });
