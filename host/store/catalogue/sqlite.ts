import { mkdir } from 'node:fs/promises';
import { dirname } from 'node:path';
import type { Refused } from '../../core/result';
import { refuse } from '../../refusals';
import { fileTrouble, hasCode } from '../file-trouble';

export type SqlValue = string | number | null | Uint8Array;
export type SqlRow = readonly unknown[];

/** The one door to the SQLite library: no other file knows which it is. */
export type Sqlite = {
  readonly path: string;
  /** Several statements without values. */
  readonly script: (sql: string) => void;
  /** Answers how many rows changed. */
  readonly run: (sql: string, values?: readonly SqlValue[]) => number;
  readonly rows: (sql: string, values?: readonly SqlValue[]) => readonly SqlRow[];
  /** Everything or nothing, and flushed to the disk before it comes back. */
  readonly atOnce: <Result>(work: () => Result) => Result;
  readonly close: () => void;
};

/** A disk or a file that fails under way. Whoever shows the catalogue to a person catches it. */
export class CatalogueTrouble extends Error {
  readonly refused: Refused;
  constructor(refused: Refused, cause: unknown) {
    super(refused.message, { cause });
    this.name = 'CatalogueTrouble';
    this.refused = refused;
  }
}

/** Another program's import is waited for so long. */
const BUSY_MS = 20_000;

/**
 * Opens a file, which is made where there is none. Loaded only here, so that nobody waits for it who needs no catalogue.
 * Throws CatalogueTrouble.
 */
export async function openSqlite(path: string, busyMs = BUSY_MS): Promise<Sqlite> {
  await mkdir(dirname(path), { recursive: true }).catch((error: unknown) => {
    throw new CatalogueTrouble(
      refuse('CATALOGUE_NOT_OPENED', { path, why: fileTrouble(error).cause }),
      error,
    );
  });
  const { default: Database } = await import('libsql').catch((error: unknown) => {
    throw new CatalogueTrouble(refuse('CATALOGUE_NO_DRIVER', { why: firstLine(error) }), error);
  });
  const database = guarded(path, () => new Database(path, { timeout: busyMs }));
  const prepared = new Map<string, ReturnType<typeof database.prepare>>();
  const statement = (sql: string): ReturnType<typeof database.prepare> => {
    const known = prepared.get(sql) ?? database.prepare(sql);
    prepared.set(sql, known);
    return known;
  };
  return {
    path,
    script: (sql) => void guarded(path, () => database.exec(sql)),
    // Values always go as one list: the library takes a single buffer for named values, and ends the program.
    run: (sql, values = []) => guarded(path, () => statement(sql).run([...values]).changes),
    rows: (sql, values = []) =>
      guarded(path, () =>
        statement(sql)
          .raw()
          .all([...values])
          .map(rowOf),
      ),
    atOnce: (work) => guarded(path, () => atOnce(database, work)),
    close: () => void database.close(),
  };
}

type Transactions = { exec(sql: string): unknown; readonly inTransaction: boolean };

/** A full disk has ended the transaction by itself: then there is nothing to roll back. */
function atOnce<Result>(database: Transactions, work: () => Result): Result {
  database.exec('begin immediate');
  try {
    const result = work();
    database.exec('commit');
    return result;
  } catch (error) {
    if (database.inTransaction) database.exec('rollback');
    throw error;
  }
}

const rowOf = (row: unknown): SqlRow => (Array.isArray(row) ? row : []);

function guarded<Result>(path: string, work: () => Result): Result {
  try {
    return work();
  } catch (error) {
    if (error instanceof CatalogueTrouble) throw error;
    const refused = refusalOf(path, error);
    if (refused === undefined) throw error;
    throw new CatalogueTrouble(refused, error);
  }
}

/** Source of the codes: sqlite.org, Result and Error Codes. */
function refusalOf(path: string, error: unknown): Refused | undefined {
  const why = firstLine(error);
  if (hasCode(error, 'SQLITE_NOTADB', 'SQLITE_CORRUPT') || /^SQLITE_CORRUPT/.test(codeOf(error)))
    return refuse('CATALOGUE_DAMAGED', { path, why });
  if (/^SQLITE_(BUSY|LOCKED)/.test(codeOf(error))) return refuse('CATALOGUE_BUSY', { path });
  if (/^SQLITE_(FULL|IOERR|READONLY)/.test(codeOf(error)))
    return refuse('CATALOGUE_NOT_WRITTEN', { path, why });
  if (/^SQLITE_(CANTOPEN|PERM|AUTH)/.test(codeOf(error)) || /Unable to open/.test(why))
    return refuse('CATALOGUE_NOT_OPENED', { path, why: 'it is no file that may be written here' });
  return undefined;
}

const codeOf = (error: unknown): string =>
  error instanceof Error && 'code' in error && typeof error.code === 'string' ? error.code : '';
const firstLine = (error: unknown): string =>
  (error instanceof Error ? error.message : String(error)).split('\n')[0] ?? '';
