import { createHash } from 'node:crypto';
import { statSync } from 'node:fs';
import { z } from 'zod';
import { refuse } from '../../refusals';
import type { Signature } from './signature';
import { CatalogueTrouble, type Sqlite } from './sqlite';

/** SHA-256 of a document's text, as hex: its name. Source: FIPS 180-4. */
export const hashOf = (body: string): string => createHash('sha256').update(body, 'utf8').digest('hex');

/** The layout of the file. Raised only when an old program could misread it. */
const LAYOUT = 1;

const SETUP = `
  create table if not exists document(
    place integer primary key autoincrement,
    hash text not null unique,
    kind integer not null,
    body text not null,
    signer text,
    signature text,
    received_at text not null
  ) strict;
  create table if not exists derived(
    hash text primary key,
    version text not null,
    answer text not null,
    columns blob
  ) strict;
  create table if not exists kept(name text primary key, value text not null) strict;
  pragma user_version = ${LAYOUT};
`;

/** Documents that were first kept on this machine, and not taken in from others: these are signed here. */
const OWN = 'create table if not exists own(hash text primary key) strict';

/** Kinds as the table keeps them. `newer`: not understood, and passed on as it is. */
const documentKinds = { card: 1, statement: 2, newer: 3 } as const;
export type DocumentKind = keyof typeof documentKinds;

export type Document = {
  readonly hash: string;
  readonly kind: DocumentKind;
  readonly body: string;
  readonly signer?: string | undefined;
  readonly signature?: string | undefined;
};
export type PlacedDocument = Document & { readonly place: number };

const row = z.tuple([
  z.number().int(),
  z.string(),
  z.number().int(),
  z.string(),
  z.string().nullable(),
  z.string().nullable(),
]);
const KIND_NAMES: Readonly<Record<number, DocumentKind>> = { 1: 'card', 2: 'statement', 3: 'newer' };
const SELECT = 'select place, hash, kind, body, signer, signature from document';
const derivedRow = z.tuple([z.string(), z.string(), z.instanceof(Uint8Array).nullable()]);

/** Columns that were worked out of a card: what the searching reads. */
export type Derived = { readonly hash: string; readonly answer: string; readonly columns: Uint8Array | null };

/** The documents of one machine, append-only, and the cache that is worked out of them. */
export class Keeper {
  readonly #db: Sqlite;

  /** Throws CatalogueTrouble for a file that is none, or a newer program's. */
  constructor(db: Sqlite) {
    this.#db = db;
    db.script('pragma journal_mode = wal; pragma synchronous = full;');
    const layout = z.number().parse(db.rows('pragma user_version')[0]?.[0]);
    if (layout > LAYOUT) throw new CatalogueTrouble(refuse('CATALOGUE_NEWER', { path: db.path }), undefined);
    if (layout < LAYOUT) db.script(SETUP);
    db.script(OWN);
  }

  get path(): string {
    return this.#db.path;
  }

  /**
   * Keeps what is new of them, all at once and flushed. Answers the hashes that were new. A signature of what is there
   * without one is kept too; of two signatures the first that came. `made`: here, or by others.
   */
  add(
    documents: readonly Document[],
    receivedAt: string,
    made: 'here' | 'elsewhere' = 'elsewhere',
  ): string[] {
    return this.#db.atOnce(() =>
      documents.filter((document) => this.#isNew(document, receivedAt, made)).map(({ hash }) => hash),
    );
  }

  #isNew(
    { hash, kind, body, signer, signature }: Document,
    receivedAt: string,
    made: 'here' | 'elsewhere',
  ): boolean {
    const count = this.#db.run(
      `insert into document(hash, kind, body, signer, signature, received_at)
       values (?, ?, ?, ?, ?, ?) on conflict(hash) do nothing`,
      [hash, documentKinds[kind], body, signer ?? null, signature ?? null, receivedAt],
    );
    if (count === 1 && made === 'here') this.#db.run('insert or ignore into own values (?)', [hash]);
    if (count === 0 && signer !== undefined && signature !== undefined)
      this.#putSignature(hash, { signer, signature });
    return count === 1;
  }

  #putSignature(hash: string, { signer, signature }: Signature): void {
    this.#db.run('update document set signer = ?, signature = ? where hash = ? and signer is null', [
      ...[signer, signature],
      hash,
    ]);
  }

  /** Signs what was made here and is not signed yet, all at once. Answers how many documents. */
  signOwn(sign: (text: string) => Signature): number {
    return this.#db.atOnce(() => {
      const waiting = this.#db
        .rows(`${SELECT} where signer is null and hash in (select hash from own)`)
        .map(placed);
      for (const { hash, body } of waiting) this.#putSignature(hash, sign(body));
      return waiting.length;
    });
  }

  /** Forgets documents for good, all at once. Only what came along to try things with is ever taken out. Answers how many. */
  remove(hashes: readonly string[]): number {
    return this.#db.atOnce(() => {
      for (const table of ['derived', 'own'])
        for (const hash of hashes) this.#db.run(`delete from ${table} where hash = ?`, [hash]);
      return hashes.filter((hash) => this.#db.run('delete from document where hash = ?', [hash]) === 1)
        .length;
    });
  }

  /** In the order in which they came. */
  since(place: number, most = -1): PlacedDocument[] {
    return this.#db.rows(`${SELECT} where place > ? order by place limit ?`, [place, most]).map(placed);
  }

  statements(): PlacedDocument[] {
    return this.#db.rows(`${SELECT} where kind = ? order by place`, [documentKinds.statement]).map(placed);
  }

  /** Cards in whose text something stands: a way to those of one job without reading all. */
  holding(text: string): PlacedDocument[] {
    return this.#db
      .rows(`${SELECT} where kind = ? and instr(body, ?) > 0`, [documentKinds.card, text])
      .map(placed);
  }

  /** Every card, some at a time: all of a large catalogue at once are hundreds of megabytes. */
  *cards(): Generator<PlacedDocument> {
    const AT_ONCE = 2_000;
    for (let place = 0; ;) {
      const some = this.since(place, AT_ONCE);
      for (const document of some) if (document.kind === 'card') yield document;
      const last = some.at(-1);
      if (last === undefined) return;
      place = last.place;
    }
  }

  hashes(kind: DocumentKind): string[] {
    return this.#db
      .rows('select hash from document where kind = ?', [documentKinds[kind]])
      .map(([hash]) => String(hash));
  }

  one(hash: string): PlacedDocument | undefined {
    return this.#db.rows(`${SELECT} where hash = ?`, [hash]).map(placed)[0];
  }

  count(): number {
    return z.number().parse(this.#db.rows('select count(*) from document')[0]?.[0]);
  }

  /** Every card's derived columns of this version. */
  derived(version: string): Derived[] {
    return this.#db
      .rows('select hash, answer, columns from derived where version = ?', [version])
      .map(derivedFrom);
  }

  derivedOf(version: string, hash: string): Derived | undefined {
    return this.#db
      .rows('select hash, answer, columns from derived where version = ? and hash = ?', [version, hash])
      .map(derivedFrom)[0];
  }

  /** Cards that have none of this version, oldest first. */
  notWorkedOut(version: string): PlacedDocument[] {
    return this.#db
      .rows(
        `${SELECT} where kind = ? and hash not in (select hash from derived where version = ?) order by place`,
        [documentKinds.card, version],
      )
      .map(placed);
  }

  putDerived(version: string, derived: readonly Derived[]): void {
    this.#db.atOnce(() => {
      for (const { hash, answer, columns } of derived)
        this.#db.run('insert or replace into derived(hash, version, answer, columns) values (?, ?, ?, ?)', [
          ...[hash, version, answer],
          columns,
        ]);
    });
  }

  /** Which file this is and what it holds: another text as soon as a document came, went or was worked out. */
  stamp(version: string): string {
    const { ino, birthtimeMs } = statSync(this.#db.path);
    const [held] = this.#db.rows('select max(place), count(*) from document');
    const [worked] = this.#db.rows('select count(*) from derived where version = ?', [version]);
    return [this.#db.path, ino, birthtimeMs, ...(held ?? []), ...(worked ?? [])].join(' ');
  }

  clearDerived(): void {
    this.#db.run('delete from derived');
  }

  kept(name: string): string | undefined {
    return z
      .string()
      .optional()
      .parse(this.#db.rows('select value from kept where name = ?', [name])[0]?.[0]);
  }

  /** What is kept under names that begin so, by the rest of their names. */
  keptUnder(beginning: string): ReadonlyMap<string, string> {
    const found = this.#db.rows('select substr(name, ?), value from kept where substr(name, 1, ?) = ?', [
      ...[beginning.length + 1, beginning.length],
      beginning,
    ]);
    return new Map(found.map(([name, value]) => [String(name), String(value)]));
  }

  keep(name: string, value: string): void {
    this.#db.run('insert or replace into kept(name, value) values (?, ?)', [name, value]);
  }

  /** What SQLite itself finds wrong with the file; empty where it is sound. */
  faults(): string[] {
    const found = this.#db.rows('pragma integrity_check').map(([each]) => String(each));
    return found.filter((each) => each !== 'ok');
  }

  close(): void {
    this.#db.close();
  }
}

function derivedFrom(values: readonly unknown[]): Derived {
  const [hash, answer, columns] = derivedRow.parse(values);
  return { hash, answer, columns };
}

function placed(values: readonly unknown[]): PlacedDocument {
  const [place, hash, kind, body, signer, signature] = row.parse(values);
  return {
    ...{ place, hash, kind: KIND_NAMES[kind] ?? 'newer', body },
    ...(signer === null ? {} : { signer }),
    ...(signature === null ? {} : { signature }),
  };
}
