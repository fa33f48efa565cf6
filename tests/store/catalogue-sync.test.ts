import { mkdtemp, rm } from 'node:fs/promises';
import { createServer, connect, type Server, type Socket } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { addDemo, Catalogue, openPostgres, sync, waitingForServer } from '../../host/store/catalogue';
import { hashOf, type Document } from '../../host/store/catalogue/keeper';
import { commandLine } from '../support/command-line';
import {
  freePort,
  isServerWanted,
  postgresAt,
  privateServer,
  type PrivateServer,
} from '../support/private-postgres';

const AT = '2030-01-01T00:00:00.000Z';
if (!isServerWanted) console.log('skipped: no PostgreSQL server is installed here (initdb is not found)');

const documents = (from: string, count: number): Document[] =>
  Array.from({ length: count }, (_, i) => {
    const body = `{"from":"${from}","n":${i},"schema":"needlewright/card/9"}`;
    return { hash: hashOf(body), kind: 'newer', body };
  });

/** A cable: passes bytes on until it is pulled after so many. */
class Cable {
  readonly #server: Server;
  readonly #sockets = new Set<Socket>();
  left = Infinity;

  constructor(to: number) {
    this.#server = createServer((near) => {
      const far = connect(to, '127.0.0.1');
      for (const socket of [near, far]) {
        this.#sockets.add(socket);
        socket.on('error', () => undefined);
        socket.on('close', () => {
          near.destroy();
          far.destroy();
        });
      }
      near.on('data', (data) => {
        this.left -= data.length;
        if (this.left > 0) far.write(data);
        else near.destroy();
      });
      far.on('data', (data) => near.write(data));
    });
  }

  async listen(): Promise<number> {
    const port = await freePort();
    await new Promise<void>((resolve) => this.#server.listen(port, '127.0.0.1', resolve));
    return port;
  }

  async close(): Promise<void> {
    for (const socket of this.#sockets) socket.destroy();
    await new Promise<void>((resolve) => this.#server.close(() => resolve()));
  }
}

describe.skipIf(!isServerWanted)('benches that meet on a PostgreSQL server', () => {
  let server: PrivateServer;
  let folder = '';
  const address = (port: number, database: string): string =>
    `postgres://bench@127.0.0.1:${port}/${database}`;
  let database = 0;
  let url = '';

  beforeAll(async () => {
    if (postgresAt === undefined) throw new Error('PostgreSQL is not installed, and CI=true asks for it');
    server = await privateServer(postgresAt);
  });
  afterAll(() => server.stop());
  beforeEach(async () => {
    folder = await mkdtemp(join(tmpdir(), 'catalogue-'));
    database += 1;
    const admin = await openPostgres(address(server.port, 'postgres'));
    await admin.rows(`create database shop${database}`);
    await admin.close();
    url = address(server.port, `shop${database}`);
  });
  afterEach(() => rm(folder, { recursive: true, force: true }));

  async function synced(catalogue: Catalogue, at = url) {
    const connection = await openPostgres(at);
    try {
      return await sync(catalogue, connection, AT);
    } finally {
      await connection.close();
    }
  }
  const hashes = (catalogue: Catalogue): string[] =>
    catalogue.keeper
      .since(0)
      .map(({ hash }) => hash)
      .sort();

  it('have the same documents after each has synchronised, and nothing twice', async () => {
    const [one, two] = [
      await Catalogue.open(join(folder, '1'), '1'),
      await Catalogue.open(join(folder, '2'), '1'),
    ];
    one.keeper.add(documents('one', 1_200), AT);
    two.keeper.add([...documents('two', 30), ...documents('one', 5)], AT);
    expect(await synced(one)).toEqual({ pulled: 0, pushed: 1_200, leftOut: [] });
    expect(await synced(two)).toEqual({ pulled: 1_195, pushed: 30, leftOut: [] });
    expect(await synced(one)).toEqual({ pulled: 30, pushed: 0, leftOut: [] });
    expect(hashes(one)).toEqual(hashes(two));
    expect(await synced(two)).toEqual({ pulled: 0, pushed: 0, leftOut: [] });
    one.close();
    two.close();
  });

  it('lose and skip nothing when both write at once and cables are pulled', async () => {
    const benches = await Promise.all(['1', '2'].map((name) => Catalogue.open(join(folder, name), '1')));
    benches.forEach((bench, i) => bench.keeper.add(documents(`bench ${i}`, 2_000), AT));
    const work = benches.map(async (bench, i) => {
      for (let round = 0; round < 8; round += 1) {
        const cable = new Cable(server.port);
        const port = await cable.listen();
        // Somewhere in the middle of what a bench has to say; the last rounds whole.
        cable.left = round < 6 ? 3_000 + 37_000 * round + 11_000 * i : Infinity;
        await synced(bench, address(port, `shop${database}`)).catch(() => undefined);
        await cable.close();
      }
      await synced(bench);
    });
    await Promise.all(work);
    for (const bench of benches) await synced(bench);
    const union = documents('bench 0', 2_000).concat(documents('bench 1', 2_000));
    const wanted = union.map(({ hash }) => hash).sort();
    for (const bench of benches) expect(hashes(bench)).toEqual(wanted);
    for (const bench of benches) bench.close();
  });

  it('are not passed by: who is slow to commit is seen by whoever read in the meantime', async () => {
    const [slow, quick, reader] = await Promise.all(
      ['1', '2', '3'].map((name) => Catalogue.open(join(folder, name), '1')),
    );
    if (slow === undefined || quick === undefined || reader === undefined) throw new Error('three benches');
    await synced(reader);
    slow.keeper.add(documents('slow', 1), AT);
    quick.keeper.add(documents('quick', 1), AT);
    // The server holds the slow one's document between its insertion and its commit, until the gate is let go.
    const GATE = 4_711;
    const [slowBody] = slow.keeper.since(0);
    const gate = await openPostgres(url);
    await gate.rows(`create function held() returns trigger language plpgsql as $$
      begin if new.hash = decode('${slowBody?.hash}', 'hex') then perform pg_advisory_xact_lock(${GATE}); end if; return new; end $$`);
    await gate.rows('create trigger held after insert on document for each row execute function held()');
    await gate.rows('select pg_advisory_lock($1)', [GATE]);
    const waiting = async (): Promise<number> =>
      Number((await gate.rows('select count(*) from pg_locks where not granted'))[0]?.[0]);
    const ended = new Set<string>();
    const start = async (name: string, bench: Catalogue): Promise<void> => {
      await synced(bench);
      ended.add(name);
    };
    const work = [start('slow', slow)];
    await expect.poll(waiting).toBe(1);
    work.push(start('quick', quick));
    await expect.poll(async () => ended.has('quick') || (await waiting()) > 1).toBe(true);
    work.push(start('reader', reader));
    await expect.poll(async () => ended.has('reader') || (await waiting()) > 2).toBe(true);
    await gate.rows('select pg_advisory_unlock($1)', [GATE]);
    await Promise.all(work);
    await gate.close();
    await synced(reader);
    const both = [...documents('slow', 1), ...documents('quick', 1)];
    expect(hashes(reader)).toEqual(both.map(({ hash }) => hash).sort());
    for (const bench of [slow, quick, reader]) bench.close();
  });

  it('carry signatures over, and take none that is not of its text', async () => {
    const [one, two] = [
      await Catalogue.open(join(folder, '1'), '1'),
      await Catalogue.open(join(folder, '2'), '1'),
    ];
    one.keeper.add(documents('one', 2), AT, 'here');
    one.keeper.add(documents('elsewhere', 1), AT);
    one.signOwn();
    await synced(one);
    const signer = one.key('none')?.signer;
    await synced(two);
    expect(
      two.keeper
        .since(0)
        .map((each) => each.signer)
        .sort(),
    ).toEqual([signer, signer, undefined]);
    const [forged] = documents('forged', 1);
    const connection = await openPostgres(url);
    await connection.rows(
      `insert into document(hash, kind, body, signer, signature)
       values (decode($1, 'hex'), 3, $2, decode($3, 'hex'), decode($4, 'hex'))`,
      [forged?.hash, forged?.body, signer, 'ab'.repeat(64)],
    );
    await connection.close();
    expect(await synced(two)).toMatchObject({
      pulled: 0,
      leftOut: [expect.stringMatching(/its signature is not of this text/)],
    });
    one.close();
    two.close();
  });

  it('keep the demo on its machine', async () => {
    const one = await Catalogue.open(join(folder, '1'), '1');
    one.keeper.add(documents('one', 3), AT);
    await addDemo(one, AT);
    expect(waitingForServer(one)).toBe(3);
    expect(await synced(one)).toEqual({ pulled: 0, pushed: 3, leftOut: [] });
    expect(waitingForServer(one)).toBe(0);
    one.close();
  });

  it('take nothing whose text is not what its name was made of', async () => {
    const one = await Catalogue.open(join(folder, '1'), '1');
    await synced(one);
    const connection = await openPostgres(url);
    await connection.rows(`insert into document(hash, kind, body) values (decode($1, 'hex'), 3, '{"a":1}')`, [
      'ab'.repeat(32),
    ]);
    await connection.close();
    const { pulled, leftOut } = await synced(one);
    expect(pulled).toBe(0);
    expect(leftOut).toEqual([expect.stringMatching(/not the one its name was made of/)]);
    one.close();
  });

  it('work on when the server is gone: SYNC_SERVER says how many documents wait', async () => {
    const one = await Catalogue.open(folder, '1');
    one.keeper.add(documents('one', 7), AT);
    one.close();
    const port = await freePort();
    const gone = await commandLine(['catalogue', 'sync', '--catalogue', folder, '--json'], {}, [], {
      DATABASE_URL: address(port, 'shop'),
    });
    expect(gone.code).toBe(3);
    expect(gone.json()).toMatchObject({ refused: { code: 'SYNC_SERVER' }, waiting: 7 });
    expect(gone.err).toMatch(/7 documents wait/);
    const ran = await commandLine(['catalogue', 'sync', '--catalogue', folder], {}, [], {
      DATABASE_URL: url,
    });
    expect(ran.out).toBe('0 documents pulled, 7 pushed');
  });

  it('leave a newer program’s table alone: SYNC_NEWER', async () => {
    const one = await Catalogue.open(folder, '1');
    await synced(one);
    const connection = await openPostgres(url);
    await connection.rows('insert into catalogue_layout(layout) values (99)');
    await connection.close();
    await expect(synced(one)).rejects.toMatchObject({ refused: { code: 'SYNC_NEWER' } });
    one.close();
  });
});

it('sync without an address says what to set', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'catalogue-'));
  const ran = await commandLine(['catalogue', 'sync', '--catalogue', folder]);
  expect(ran.code).toBe(2);
  expect(ran.err).toMatch(/DATABASE_URL is not set/);
  await rm(folder, { recursive: true, force: true });
});
