import { z } from 'zod';
import { readDocument } from '../../catalogue';
import { refuse } from '../../refusals';
import type { Catalogue } from './catalogue';
import { isDemo } from './demo';
import { hashOf, type Document, type PlacedDocument } from './keeper';
import type { Postgres } from './postgres';
import { BROKEN_SIGNATURE, isSignedBy, type Signature } from './signature';
import { CatalogueTrouble } from './sqlite';

/** Documents that go over in one step: a cable that is pulled loses no more than this much work, and no document. */
const BATCH = 500;
/** One writer hands out places at a time. Any number will do, so long as every bench has the same. */
const LOCK = 1_801_801;
/** The layout of the server's table. */
const LAYOUT = 1;

const SETUP = `
  create table if not exists document(
    hash bytea primary key,
    place bigint generated always as identity unique,
    kind smallint not null,
    body text not null,
    signer bytea,
    signature bytea,
    received_at timestamptz not null default now()
  );
  create table if not exists catalogue_layout(
    layout integer primary key,
    name uuid not null default gen_random_uuid()
  );
`;

export type Synced = {
  readonly pulled: number;
  readonly pushed: number;
  /** What the server had and this bench does not take, and why. */
  readonly leftOut: readonly string[];
};

/** Where in the server's order this bench stands, and up to which of its own documents it has pushed. */
const placeName = (server: string): string => `pulled from ${server}`;
const pushedName = (server: string): string => `pushed to ${server}`;

/**
 * Pulls what the server has after this bench's place, then pushes what the bench has kept since it last did. May be cut off
 * anywhere: a place is kept only after its documents are, and what is sent twice is one document.
 * Throws CatalogueTrouble.
 */
export async function sync(catalogue: Catalogue, server: Postgres, at: string): Promise<Synced> {
  const identity = await prepare(server);
  catalogue.keeper.keep(LAST_SERVER, identity);
  const { pulled, leftOut } = await pull(catalogue, server, { identity, at });
  const pushed = await push(catalogue, server, identity);
  // What others pushed meanwhile comes the next time; what this bench pushed comes back as known.
  return { pulled, pushed, leftOut };
}

/** The demo stays on its machine. */
const demoCardsOf = ({ keeper }: Catalogue): ReadonlySet<string> =>
  new Set(keeper.holding('"demo":true').map(({ hash }) => hash));

/** How many documents wait for the server that was reached last; all of them where none ever was. */
export function waitingForServer(catalogue: Catalogue): number {
  const identity = catalogue.keeper.kept(LAST_SERVER);
  const demoCards = demoCardsOf(catalogue);
  return catalogue.keeper
    .since(identity === undefined ? 0 : keptPlace(catalogue, pushedName(identity)))
    .filter((each) => !isDemo(each, demoCards)).length;
}

const LAST_SERVER = 'server';

const keptPlace = (catalogue: Catalogue, name: string): number => Number(catalogue.keeper.kept(name) ?? 0);

/** Makes the table where there is none. Answers what tells this database from any other. */
async function prepare(server: Postgres): Promise<string> {
  await server.rows('select pg_advisory_lock($1)', [LOCK]);
  try {
    for (const statement of SETUP.split(';').filter((each) => each.trim() !== ''))
      await server.rows(statement);
    await server.rows('insert into catalogue_layout(layout) values ($1) on conflict do nothing', [LAYOUT]);
    const [[layout, name] = []] = await server.rows(
      'select layout, name::text from catalogue_layout order by layout desc limit 1',
    );
    if (Number(layout) > LAYOUT) throw new CatalogueTrouble(refuse('SYNC_NEWER'), undefined);
    return String(name);
  } finally {
    await server.rows('select pg_advisory_unlock($1)', [LOCK]);
  }
}

const row = z.tuple([
  z.coerce.number().int(),
  z.string(),
  z.string(),
  z.string().nullable(),
  z.string().nullable(),
]);

async function pull(
  catalogue: Catalogue,
  server: Postgres,
  { identity, at }: { readonly identity: string; readonly at: string },
): Promise<Omit<Synced, 'pushed'>> {
  const leftOut: string[] = [];
  let pulled = 0;
  for (;;) {
    const place = keptPlace(catalogue, placeName(identity));
    const rows = await server.rows(
      `select place, encode(hash, 'hex'), body, encode(signer, 'hex'), encode(signature, 'hex') from document where place > $1 order by place limit ${BATCH}`,
      [place],
    );
    if (rows.length === 0) return { pulled, leftOut };
    const read = rows.map((each) => row.parse(each));
    const documents = read.flatMap(([, hash, body, signer, signature]): Document[] => {
      const found = sound(hash, body, signer === null ? undefined : { signer, signature: signature ?? '' });
      if (typeof found !== 'string') return [found];
      leftOut.push(`${hash.slice(0, 12)}: ${found}`);
      return [];
    });
    pulled += catalogue.keeper.add(documents, at).length;
    catalogue.keeper.keep(placeName(identity), String(read.at(-1)?.[0] ?? place));
  }
}

function sound(hash: string, body: string, signed: Signature | undefined): Document | string {
  if (hashOf(body) !== hash) return 'its text is not the one its name was made of';
  const read = readDocument(body);
  if (read.kind === 'bad') return read.why;
  if (signed !== undefined && !isSignedBy(body, signed)) return BROKEN_SIGNATURE;
  return { hash, kind: read.kind, body, ...signed };
}

const KINDS = { card: 1, statement: 2, newer: 3 } as const;

async function push(catalogue: Catalogue, server: Postgres, identity: string): Promise<number> {
  let pushed = 0;
  const demoCards = demoCardsOf(catalogue);
  for (;;) {
    const documents = catalogue.keeper.since(keptPlace(catalogue, pushedName(identity)), BATCH);
    const last = documents.at(-1);
    if (last === undefined) return pushed;
    pushed += await insert(
      server,
      documents.filter((each) => !isDemo(each, demoCards)),
    );
    catalogue.keeper.keep(pushedName(identity), String(last.place));
  }
}

/**
 * All of them or none, one writer at a time: identity numbers are handed out before a commit, so without the lock a reader
 * who has seen 17 would never see a late 16. Source: PostgreSQL manual, advisory locks; identity columns.
 */
async function insert(server: Postgres, documents: readonly PlacedDocument[]): Promise<number> {
  await server.rows('begin');
  try {
    await server.rows('select pg_advisory_xact_lock($1)', [LOCK]);
    const fresh = await server.rows(
      `insert into document(hash, kind, body, signer, signature)
       select decode(hash, 'hex'), kind, body, decode(signer, 'hex'), decode(signature, 'hex')
       from unnest($1::text[], $2::smallint[], $3::text[], $4::text[], $5::text[]) as t(hash, kind, body, signer, signature)
       on conflict (hash) do nothing returning 1`,
      [
        documents.map(({ hash }) => hash),
        documents.map(({ kind }) => KINDS[kind]),
        documents.map(({ body }) => body),
        documents.map(({ signer }) => signer ?? null),
        documents.map(({ signature }) => signature ?? null),
      ],
    );
    await server.rows('commit');
    return fresh.length;
  } catch (error) {
    await server.rows('rollback').catch(() => undefined);
    throw error;
  }
}
