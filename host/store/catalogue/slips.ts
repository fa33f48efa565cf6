import { slip as slipShape, type Slip } from '../../catalogue';
import { openSqlite, type Sqlite } from './sqlite';

const SETUP = `
  pragma journal_mode = delete;
  pragma synchronous = extra;
  pragma secure_delete = on;
  create table if not exists slip(hash text primary key, body text not null) strict;
`;

/**
 * What is private about cards, in a file of its own. It is never part of a document, and what is erased is overwritten in
 * the file: no write-ahead log keeps it, and SQLite zeroes what it frees. `extra`: removing the journal is what ends a
 * change, and only so is the folder flushed after it; a power loss would bring the erased back. Source: sqlite.org, PRAGMA
 * synchronous.
 */
export class Slips {
  readonly #path: string;
  #db: Sqlite | undefined;

  constructor(path: string) {
    this.#path = path;
  }

  async #opened(): Promise<Sqlite> {
    if (this.#db !== undefined) return this.#db;
    const db = await openSqlite(this.#path);
    db.script(SETUP);
    this.#db = db;
    return db;
  }

  async put(hash: string, slip: Slip): Promise<void> {
    const db = await this.#opened();
    db.run('insert or replace into slip(hash, body) values (?, ?)', [hash, JSON.stringify(slip)]);
  }

  async of(hash: string): Promise<Slip | undefined> {
    const [found] = (await this.#opened()).rows('select body from slip where hash = ?', [hash]);
    if (found === undefined) return undefined;
    const read = slipShape.safeParse(JSON.parse(String(found[0])));
    return read.success ? read.data : undefined;
  }

  /** False where there was none. */
  async erase(hash: string): Promise<boolean> {
    return (await this.#opened()).run('delete from slip where hash = ?', [hash]) === 1;
  }

  close(): void {
    this.#db?.close();
    this.#db = undefined;
  }
}
