import { readFileSync } from 'node:fs';
import { createHash } from 'node:crypto';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { inflateRawSync } from 'node:zlib';
import { strToU8, zipSync } from 'fflate';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { commandLine, type Files, type Ran } from '../support/command-line';

let folder = '';
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'catalogue-'));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

const csv = (ohmAtMiddle: number): string =>
  `resistance_ohm,reading_percent\n${[8, 15, 30, 60, 120, 240].map((ohm) => `${ohm},${((100 * ohm) / (ohm + ohmAtMiddle)).toFixed(1)}`).join('\n')}`;

const at = (shop: string, words: readonly string[], files: Files = {}): Promise<Ran> =>
  commandLine(['catalogue', ...words, '--catalogue', join(folder, shop)], files);

const Listed = z.looseObject({ cards: z.array(z.looseObject({ id: z.string() })) });
const job = readFileSync(new URL('../../demo-sessions/tern-1100-fuel/job.ndjson', import.meta.url), 'utf8');

async function exported(shop: string, ...options: string[]): Promise<Uint8Array> {
  const file = join(folder, `${shop}-${options.length}-${Math.floor(performance.now())}.zip`);
  expect((await at(shop, ['export', file, ...options])).code).toBe(0);
  return new Uint8Array(await readFile(file));
}

/**
 * Another program: a zip read by its central directory, as PKWARE APPNOTE 4.3 lays it out, with nothing of ours.
 * Answers its files as text.
 */
function readByAnother(bytes: Uint8Array): Map<string, string> {
  const buffer = Buffer.from(bytes);
  const end = buffer.lastIndexOf(Buffer.from([0x50, 0x4b, 0x05, 0x06]));
  const files = new Map<string, string>();
  let place = buffer.readUInt32LE(end + 16);
  for (let left = buffer.readUInt16LE(end + 10); left > 0; left -= 1) {
    const [method, packed] = [buffer.readUInt16LE(place + 10), buffer.readUInt32LE(place + 20)];
    const [nameLength, extra, comment] = [28, 30, 32].map((offset) => buffer.readUInt16LE(place + offset));
    const local = buffer.readUInt32LE(place + 42);
    const name = buffer.toString('utf8', place + 46, place + 46 + (nameLength ?? 0));
    const from = local + 30 + buffer.readUInt16LE(local + 26) + buffer.readUInt16LE(local + 28);
    const content = buffer.subarray(from, from + packed);
    files.set(name, (method === 0 ? content : inflateRawSync(content)).toString('utf8'));
    place += 46 + (nameLength ?? 0) + (extra ?? 0) + (comment ?? 0);
  }
  return files;
}

const linesOf = (text: string | undefined): string[] =>
  (text ?? '').split('\n').filter((line) => line !== '');

describe('what one shop exports', () => {
  it('is read by another program, which takes every hash again', async () => {
    await at('one', ['add', 'a.csv', '--model', 'Tern 1100 fuel'], { 'a.csv': csv(40) });
    const files = readByAnother(await exported('one'));
    expect([...files.keys()].sort()).toEqual([
      'README.txt',
      'curves.csv',
      'documents.ndjson',
      'hashes.txt',
      'schema.json',
      'signatures.txt',
    ]);
    const documents = linesOf(files.get('documents.ndjson'));
    expect(documents).toHaveLength(2);
    expect(documents.map((line) => createHash('sha256').update(line).digest('hex'))).toEqual(
      linesOf(files.get('hashes.txt')),
    );
    const [card] = documents
      .map((line): unknown => JSON.parse(line))
      .filter((each) => JSON.stringify(each).includes('"points"'));
    expect(card).toMatchObject({
      kind: 'gauge',
      points: [{ resistance_ohm: 8, reading: 16.7 }, {}, {}, {}, {}, {}],
    });
    expect(files.get('README.txt')).toMatch(/SHA-256 of its line/);
  });

  it('has a schema that its own lines keep to and a wrong one does not', async () => {
    await at('one', ['add', 'a.csv'], { 'a.csv': csv(40) });
    const files = readByAnother(await exported('one'));
    const Schema = z.looseObject({
      anyOf: z.array(z.looseObject({ oneOf: z.array(z.looseObject({ required: z.array(z.string()) })) })),
    });
    const { anyOf } = Schema.parse(JSON.parse(files.get('schema.json') ?? ''));
    const gauge = anyOf[0]?.oneOf[0]?.required ?? [];
    expect(gauge).toEqual(
      expect.arrayContaining(['schema', 'kind', 'unit', 'points', 'licence', 'simulated']),
    );
    const card = z
      .record(z.string(), z.unknown())
      .parse(JSON.parse(linesOf(files.get('documents.ndjson'))[0] ?? ''));
    expect(gauge.filter((field) => !(field in card))).toEqual([]);
  });

  it('runs no formula in a spreadsheet', async () => {
    await at('one', ['add', 'a.csv', '--description', '=HYPERLINK("http://x","y"), 40 ohm'], {
      'a.csv': csv(40),
    });
    const text = readByAnother(await exported('one')).get('curves.csv') ?? '';
    const cells = text.split('\n').flatMap((row) => row.split(/,(?=(?:[^"]*"[^"]*")*[^"]*$)/));
    expect(cells.filter((cell) => /^"?[=+@]/.test(cell))).toEqual([]);
    expect(text).toContain(`"'=HYPERLINK(""http://x"",""y""), 40 ohm"`);
    expect(text).toContain(',8,16.7,');
  });

  it.each([['+1'], ['-1+2'], ['@sum(a1)'], ['\uff1d1'], ['\uff201']])(
    'runs none that begins otherwise: %s',
    async (begun) => {
      await at('one', ['add', 'a.csv', '--description', begun], { 'a.csv': csv(40) });
      const text = readByAnother(await exported('one')).get('curves.csv') ?? '';
      expect(text).toContain(`,'${begun},`);
    },
  );

  it('shows what is text as text', async () => {
    await at('one', ['add', 'a.csv', '--description', '40 ohm = full'], { 'a.csv': csv(40) });
    expect(readByAnother(await exported('one')).get('curves.csv')).toContain(',40 ohm = full,');
  });

  it('leaves the demo where it is: nobody measured it', async () => {
    expect((await at('one', ['demo'])).code).toBe(0);
    const alone = await at('one', ['export', join(folder, 'demo.zip')]);
    expect([alone.code, alone.err]).toEqual([2, expect.stringMatching(/cards of the demo stay here/)]);
    await at('one', ['add', 'a.csv'], { 'a.csv': csv(40) });
    const files = readByAnother(await exported('one'));
    expect(linesOf(files.get('documents.ndjson'))).toHaveLength(1);
  });

  it('has no slip in it, and nothing private when that is asked for', async () => {
    await at('one', ['add', 'a.csv'], { 'a.csv': csv(40) });
    await at('one', ['add', 'b.csv', '--licence', 'CC0'], { 'b.csv': csv(60) });
    const shared = readByAnother(await exported('one', '--select', 'shared'));
    expect(linesOf(shared.get('documents.ndjson'))).toHaveLength(1);
    expect(linesOf(shared.get('documents.ndjson'))[0]).toContain('"licence":"CC0"');
  });
});

describe('what another shop imports', () => {
  it('is the same, byte for byte, and twice is once', async () => {
    await at('one', ['add', 'a.csv', 'b.csv', '--model', 'Tern 1100 fuel'], {
      'a.csv': csv(40),
      'b.csv': csv(41),
    });
    const bytes = await exported('one');
    const dry = await at('two', ['import', 'x.zip', '--dry-run', '--json'], { 'x.zip': bytes });
    expect(dry.json()).toMatchObject({ dry_run: true, new: 3, known: 0 });
    expect((await at('two', ['import', 'x.zip'], { 'x.zip': bytes })).out).toBe(
      '3 documents kept, 0 known already',
    );
    expect((await at('two', ['import', 'x.zip'], { 'x.zip': bytes })).out).toBe(
      '0 documents kept, 3 known already',
    );
    expect(Buffer.from(await exported('two')).equals(Buffer.from(bytes))).toBe(true);
  });

  it('merges with what it has, whichever shop gives to which', async () => {
    await at('one', ['add', 'a.csv', 'b.csv'], { 'a.csv': csv(40), 'b.csv': csv(50) });
    await at('two', ['add', 'b.csv', 'c.csv'], { 'b.csv': csv(50), 'c.csv': csv(60) });
    const [one, two] = [await exported('one'), await exported('two')];
    await at('one', ['import', 'x.zip'], { 'x.zip': two });
    await at('two', ['import', 'x.zip'], { 'x.zip': one });
    const documents = async (shop: string): Promise<string | undefined> =>
      readByAnother(await exported(shop)).get('documents.ndjson');
    expect(await documents('one')).toBe(await documents('two'));
    expect(linesOf(await documents('one'))).toHaveLength(3);
  });

  it('brings nothing back that was withdrawn, and tells the other shop of it', async () => {
    await at('one', ['add', 'a.csv'], { 'a.csv': csv(40) });
    await at('two', ['import', 'x.zip'], { 'x.zip': await exported('one') });
    const [card] = Listed.parse((await at('one', ['list', '--json'])).json()).cards;
    const id = card?.id ?? '';
    await at('one', ['withdraw', id, '--because', 'wrong ohmmeter']);
    await at('one', ['import', 'x.zip'], { 'x.zip': await exported('two') });
    expect((await at('one', ['show', id])).out).toContain('withdrawn: wrong ohmmeter');
    await at('two', ['import', 'x.zip'], { 'x.zip': await exported('one') });
    expect((await at('two', ['show', id])).out).toContain('withdrawn: wrong ohmmeter');
  });

  it('brings no erased slip back, nor does adding the job again', async () => {
    const files = { 'job.ndjson': job };
    const added = await at('one', ['add', 'job.ndjson', '--json'], files);
    const id = Listed.parse(added.json()).cards[0]?.id ?? '';
    await at('two', ['import', 'x.zip'], { 'x.zip': await exported('one') });
    expect((await at('one', ['erase-slip', id])).code).toBe(0);
    await at('one', ['import', 'x.zip'], { 'x.zip': await exported('two') });
    await at('one', ['add', 'job.ndjson'], files);
    expect((await at('one', ['erase-slip', id])).err).toContain('has no slip');
  });

  /** An archive as a person would make it by hand. */
  const packed = (files: Readonly<Record<string, string>>): Uint8Array =>
    zipSync(Object.fromEntries(Object.entries(files).map(([name, text]) => [name, strToU8(text)])));

  /** The same, which says of its only file that it unpacks to so many bytes. */
  function lying(files: Readonly<Record<string, string>>, bytes: number): Uint8Array {
    const buffer = Buffer.from(packed(files));
    // Source: PKWARE APPNOTE 4.3.7 and 4.3.12: uncompressed size in the local and in the central header.
    buffer.writeUInt32LE(bytes, 22);
    buffer.writeUInt32LE(bytes, buffer.lastIndexOf(Buffer.from([0x50, 0x4b, 0x01, 0x02])) + 24);
    return new Uint8Array(buffer);
  }

  it('refuses bad lines by their numbers and takes the rest', async () => {
    await at('one', ['add', 'a.csv', 'b.csv', 'c.csv'], {
      'a.csv': csv(40),
      'b.csv': csv(50),
      'c.csv': csv(60),
    });
    const files = readByAnother(await exported('one'));
    const [first = '', second = '', third = ''] = linesOf(files.get('documents.ndjson'));
    const bytes = packed({
      'documents.ndjson': `${first}\n${second.replace('"reading":', '"reading":1')}\n${third.slice(0, 60)}`,
      'hashes.txt': files.get('hashes.txt') ?? '',
    });
    const ran = await at('two', ['import', 'x.zip', '--json'], { 'x.zip': bytes });
    expect(ran.code).toBe(0);
    expect(ran.json()).toMatchObject({ new: 1, left_out: [{ row: 2 }, { row: 3 }] });
    expect(ran.err).toMatch(/x\.zip, line 2: left out, its text is not the one its name was made of/);
    expect(ran.err).toMatch(/x\.zip, line 3: left out, the line is cut off/);
  });

  it('keeps what a newer program made', async () => {
    const bytes = packed({ 'documents.ndjson': '{"schema":"needlewright/card/9"}\n' });
    expect((await at('two', ['import', 'x.zip'], { 'x.zip': bytes })).out).toMatch(/^1 documents kept/);
    expect((await at('two', ['list'])).err).toMatch(/1 documents were made by a newer program/);
  });

  it.each([
    ['a zip of something else', { 'letter.txt': 'dear shop' }, /x\.zip: there is no documents\.ndjson in it/],
    ['an empty one', { 'documents.ndjson': '' }, /no document in it/],
  ])('refuses %s', async (_, files, message) => {
    const ran = await at('two', ['import', 'x.zip'], { 'x.zip': packed(files) });
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(message);
  });

  it('unpacks no bomb, and names the limit', async () => {
    const bytes = lying({ 'documents.ndjson': ' '.repeat(2 ** 20) }, 500 * 2 ** 20);
    const ran = await at('two', ['import', 'x.zip'], { 'x.zip': bytes });
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(/documents\.ndjson unpacks to more than 400 MB/);
  });

  it('gives a file that says too little of itself no more room than it said', async () => {
    await at('one', ['add', 'a.csv', 'b.csv'], { 'a.csv': csv(40), 'b.csv': csv(50) });
    const text = readByAnother(await exported('one')).get('documents.ndjson') ?? '';
    const bytes = lying({ 'documents.ndjson': text }, text.length - 40);
    const ran = await at('two', ['import', 'x.zip', '--json'], { 'x.zip': bytes });
    expect(ran.json()).toMatchObject({ new: 1, left_out: [{ row: 2 }] });
  });

  it('refuses a cut archive', async () => {
    await at('one', ['add', 'a.csv'], { 'a.csv': csv(40) });
    const bytes = (await exported('one')).slice(0, -30);
    const ran = await at('two', ['import', 'x.zip'], { 'x.zip': bytes });
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(/damaged zip/);
  });

  it('writes over no file', async () => {
    await at('one', ['add', 'a.csv'], { 'a.csv': csv(40) });
    const file = join(folder, 'there.zip');
    await writeFile(file, 'mine');
    const ran = await at('one', ['export', file]);
    expect(ran.code).toBe(2);
    expect(await readFile(file, 'utf8')).toBe('mine');
  });
});
