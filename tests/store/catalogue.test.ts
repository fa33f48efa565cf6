import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { documentText, type Card, type GaugeCard } from '../../host/catalogue';
import { Catalogue, CatalogueTrouble, verify } from '../../host/store/catalogue';
import { hashOf, Keeper, type Document } from '../../host/store/catalogue/keeper';
import { openSqlite } from '../../host/store/catalogue/sqlite';

const CATALOGUE_FILE = 'catalogue.sqlite';
const AT = '2030-01-01T00:00:00.000Z';
let folder = '';
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'catalogue-'));
});
afterEach(async () => {
  vi.doUnmock('libsql');
  await rm(folder, { recursive: true, force: true });
});

/** A cross-coil gauge of the trade's textbook: the needle follows R / (R + r). */
const gauge = (ohmAtMiddle: number, change: Partial<GaugeCard> = {}): Card => ({
  schema: 'needlewright/card/1',
  kind: 'gauge',
  quantity: 'fuel',
  unit: '%',
  description: `gauge with ${ohmAtMiddle} ohm at its middle`,
  points: [10, 20, 40, 80, 160].map((ohm) => ({
    resistance_ohm: ohm,
    reading: Number(((100 * ohm) / (ohm + ohmAtMiddle)).toFixed(1)),
  })),
  licence: 'private',
  simulated: false,
  ...change,
});

const document = (body: string): Document => ({ hash: hashOf(body), kind: 'card', body });

async function refusalOf(work: () => unknown): Promise<string> {
  try {
    await work();
  } catch (error) {
    if (error instanceof CatalogueTrouble) return error.refused.code;
    throw error;
  }
  return 'nothing';
}

describe('the keeper of documents', () => {
  it('keeps a document once, under the hash of its text, in the order of arrival', async () => {
    const keeper = new Keeper(await openSqlite(join(folder, 'a.sqlite')));
    const [one, two] = [document('{"a":1}'), document('{"b":2}')];
    expect(keeper.add([one, two, one], AT)).toEqual([one.hash, two.hash]);
    expect(keeper.add([two], AT)).toEqual([]);
    expect(keeper.since(0).map(({ place, body }) => [place, body])).toEqual([
      [1, one.body],
      [2, two.body],
    ]);
    expect(keeper.since(1).map(({ hash }) => hash)).toEqual([two.hash]);
    // Source: FIPS 180-4 by an independent program: printf '{"a":1}' | sha256sum.
    expect(one.hash).toBe('015abd7f5cc57a2dd94b7590f04ad8084273905ee33ec5cebeae62276a97f862');
    keeper.close();
  });

  it('lets two programs write at once and loses nothing', async () => {
    const path = join(folder, 'a.sqlite');
    const [one, other] = [new Keeper(await openSqlite(path)), new Keeper(await openSqlite(path))];
    for (let i = 0; i < 50; i += 1) {
      one.add([document(`{"one":${i}}`)], AT);
      other.add([document(`{"other":${i}}`)], AT);
    }
    expect(one.count()).toBe(100);
    expect(other.since(0).map(({ place }) => place)).toEqual(Array.from({ length: 100 }, (_, i) => i + 1));
    one.close();
    other.close();
  });

  it('is a file that flushes each commit before it comes back', async () => {
    const db = await openSqlite(join(folder, 'a.sqlite'));
    const keeper = new Keeper(db);
    expect(db.rows('pragma journal_mode')).toEqual([['wal']]);
    // Source: sqlite.org, PRAGMA synchronous: 2 is FULL.
    expect(db.rows('pragma synchronous')).toEqual([[2]]);
    keeper.close();
  });
});

describe('a catalogue whose disk fails', () => {
  it('CATALOGUE_DAMAGED: the file is something else', async () => {
    await writeFile(join(folder, CATALOGUE_FILE), 'no database at all, only words '.repeat(200));
    expect(await refusalOf(() => Catalogue.open(folder, '1'))).toBe('CATALOGUE_DAMAGED');
  });

  it('CATALOGUE_NOT_OPENED: the folder is a file', async () => {
    await writeFile(join(folder, 'file'), '');
    expect(await refusalOf(() => Catalogue.open(join(folder, 'file'), '1'))).toBe('CATALOGUE_NOT_OPENED');
  });

  it('CATALOGUE_NEWER: a newer program laid it out otherwise', async () => {
    const db = await openSqlite(join(folder, CATALOGUE_FILE));
    db.script('pragma user_version = 99');
    db.close();
    expect(await refusalOf(() => Catalogue.open(folder, '1'))).toBe('CATALOGUE_NEWER');
  });

  it('CATALOGUE_BUSY: another program holds it and does not end', async () => {
    const path = join(folder, 'a.sqlite');
    const [one, other] = [await openSqlite(path), await openSqlite(path, 50)];
    const keeper = new Keeper(other);
    one.script('begin immediate');
    expect(await refusalOf(() => keeper.add([document('{"a":1}')], AT))).toBe('CATALOGUE_BUSY');
    one.script('rollback');
    expect(keeper.add([document('{"a":1}')], AT)).toHaveLength(1);
    one.close();
    other.close();
  });

  it('CATALOGUE_NOT_WRITTEN: the disk is full, and nothing of the batch is kept', async () => {
    const db = await openSqlite(join(folder, 'a.sqlite'));
    const keeper = new Keeper(db);
    db.script('pragma max_page_count = 12');
    const batch = Array.from({ length: 40 }, (_, i) =>
      document(JSON.stringify({ i, text: 'x'.repeat(4000) })),
    );
    expect(await refusalOf(() => keeper.add(batch, AT))).toBe('CATALOGUE_NOT_WRITTEN');
    expect(keeper.count()).toBe(0);
    keeper.close();
  });

  it('CATALOGUE_NO_DRIVER: the library has no part for this machine', async () => {
    vi.doMock('libsql', () => {
      throw new Error('Cannot find module');
    });
    expect(await refusalOf(() => openSqlite(join(folder, 'b.sqlite')))).toBe('CATALOGUE_NO_DRIVER');
  });
});

describe('a catalogue', () => {
  it('knows a card that it has, also when a later program makes it again from the same job', async () => {
    const catalogue = await Catalogue.open(folder, '1');
    const made = (program: string): Card => gauge(40, { made_from: { job: 'b'.repeat(64), program } });
    const [first] = catalogue.add([made('1')], AT);
    expect(catalogue.add([made('1')], AT)).toEqual([{ hash: first?.hash, isNew: false }]);
    expect(catalogue.add([made('2')], AT)).toEqual([{ hash: first?.hash, isNew: false }]);
    expect(catalogue.entries()).toHaveLength(1);
    catalogue.close();
  });

  it('knows a table that an earlier program took in, and one that says other figures not', async () => {
    const catalogue = await Catalogue.open(folder, '1');
    const made = (program: string, ohm = 40): Card =>
      gauge(ohm, { description: 'shop', made_from: { file: 'shop.csv', program } });
    const [first] = catalogue.add([made('1')], AT);
    expect(catalogue.add([made('2'), made('2', 41)], AT)).toMatchObject([
      { hash: first?.hash, isNew: false },
      { isNew: true },
    ]);
    expect(catalogue.add([made('3', 41), made('3')], AT).map(({ isNew }) => isNew)).toEqual([false, false]);
    expect(catalogue.entries()).toHaveLength(2);
    catalogue.close();
  });

  it('lists a card before it is worked out, and one that cannot be', async () => {
    const catalogue = await Catalogue.open(folder, '1');
    const flat = gauge(40, {
      points: [10, 20, 40].map((ohm) => ({ resistance_ohm: ohm, reading: 50 })),
    });
    catalogue.add([gauge(40), flat], AT);
    expect(catalogue.entries().map(({ search }) => search)).toEqual([undefined, undefined]);
    expect(catalogue.workOut(() => true)).toBe(2);
    expect(catalogue.workOut()).toBe(0);
    const states = catalogue
      .entries()
      .map(({ search }) => (search?.kind === 'refused' ? search.code : search?.kind));
    expect(states.sort()).toEqual(['CURVE_FLAT', 'columns']);
    catalogue.close();
  });

  it('gives the same columns after the cache was thrown away', async () => {
    const catalogue = await Catalogue.open(folder, '1');
    catalogue.add([gauge(40), gauge(70)], AT);
    catalogue.workOut();
    const before = catalogue.entries();
    catalogue.forgetWorkedOut();
    catalogue.workOut();
    expect(catalogue.entries()).toEqual(before);
    expect(verify(catalogue).faults).toEqual([]);
    catalogue.close();
  });

  it('tells a document whose text was changed in the file, and a cache that was', async () => {
    const catalogue = await Catalogue.open(folder, '1');
    const [kept] = catalogue.add([gauge(40), gauge(70)], AT);
    catalogue.workOut();
    catalogue.close();
    const db = await openSqlite(join(folder, CATALOGUE_FILE));
    db.run(`update document set body = replace(body, '80', '81') where hash = ?`, [kept?.hash ?? '']);
    db.run(`update derived set answer = replace(answer, 'two-coil', 'ratio') where hash <> ?`, [
      kept?.hash ?? '',
    ]);
    db.run(`update derived set columns = zeroblob(512) where hash <> ?`, [kept?.hash ?? '']);
    db.close();
    const again = await Catalogue.open(folder, '1');
    const { faults } = verify(again);
    expect(faults.filter((fault) => /not the one its name was made of/.test(fault))).toHaveLength(1);
    expect(faults.filter((fault) => /worked out otherwise/.test(fault))).not.toHaveLength(0);
    again.close();
  });

  it('has no byte of an erased slip left in its file', async () => {
    const catalogue = await Catalogue.open(folder, '1');
    const [kept] = catalogue.add([gauge(40)], AT);
    const hash = kept?.hash ?? '';
    await catalogue.slips.put(hash, { owner: 'Invented Owner of Harrow Lane' });
    expect(await catalogue.slips.of(hash)).toEqual({ owner: 'Invented Owner of Harrow Lane' });
    expect(await catalogue.slips.erase(hash)).toBe(true);
    expect(await catalogue.slips.erase(hash)).toBe(false);
    catalogue.close();
    const bytes = await readFile(join(folder, 'catalogue-slips.sqlite'), 'latin1');
    expect(bytes).not.toContain('Harrow Lane');
    expect(await readFile(join(folder, CATALOGUE_FILE), 'latin1')).not.toContain('Harrow Lane');
  });

  it('is told by the first letters of a card, and guesses none: CARD_UNKNOWN, CARD_AMBIGUOUS', async () => {
    const catalogue = await Catalogue.open(folder, '1');
    catalogue.add(
      Array.from({ length: 40 }, (_, i) => gauge(30 + i)),
      AT,
    );
    const letters = [...'abcdefghijklmnopqrstuvwxyz234567'];
    const codes = letters.map((letter) => {
      const found = catalogue.meant(letter);
      return typeof found === 'string' ? 'one' : found.code;
    });
    // Forty names over thirty-two letters: some letter begins two of them.
    expect(codes).toContain('CARD_AMBIGUOUS');
    expect(catalogue.meant('zzzzzzzzzzzz')).toMatchObject({ code: 'CARD_UNKNOWN' });
    catalogue.close();
  });

  it('keeps what a newer program made, without searching it', async () => {
    const catalogue = await Catalogue.open(folder, '1');
    const body = '{"schema":"needlewright/card/7"}';
    catalogue.keeper.add([{ hash: hashOf(body), kind: 'newer', body }], AT);
    expect(catalogue.entries()).toEqual([]);
    expect(verify(catalogue).faults).toEqual([]);
    catalogue.close();
  });

  it('holds documents as canonical text', async () => {
    const catalogue = await Catalogue.open(folder, '1');
    catalogue.add([gauge(40)], AT);
    expect(catalogue.keeper.since(0)[0]?.body).toBe(documentText(gauge(40)));
    catalogue.close();
  });
});
