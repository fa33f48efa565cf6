import { cp, mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { catalogueDesk } from '../../host/server/catalogue/catalogue-desk';
import { needOf } from '../../host/server/gate';
import { startServer } from '../../host/server';
import { journalLine, readJournal } from '../../host/store';
import { answerFromCatalogue } from '../../host/store/catalogue';
import { scratchFolder } from '../store/scratch';
import { commandLine } from '../support/command-line';
import { openTestHost, type TestHost } from './support';

const demo = (name: string): string => join(import.meta.dirname, '..', '..', 'demo-sessions', name);
const HARROW = 'harrow-six-coolant';

const Answer = z.strictObject({
  kind: z.literal('job-in-catalogue'),
  cards: z.array(z.looseObject({ kind: z.string(), id: z.string().optional(), new: z.boolean() })),
  model: z.string().optional(),
  looksLike: z.strictObject({ names: z.array(z.string()), share: z.number() }).optional(),
});

describe('a job and the catalogue, by HTTP', () => {
  let host: TestHost;
  let folder = '';
  let jobsFolder = '';
  beforeEach(async () => {
    jobsFolder = await scratchFolder();
    folder = join(jobsFolder, 'of', 'the shop');
    for (const name of [HARROW, 'tern-1100-fuel'])
      await cp(demo(name), join(jobsFolder, name), { recursive: true });
    const catalogue = catalogueDesk(
      { reckon: answerFromCatalogue, close: () => Promise.resolve() },
      { jobsFolder, catalogueFolder: folder, version: 'test' },
    );
    host = await openTestHost({ catalogue });
  });
  afterEach(() => host.close());

  const ask = async (jobId: string, body?: object): Promise<{ status: number; body: unknown }> => {
    const answer = await fetch(`http://${host.place}/api/jobs/${encodeURIComponent(jobId)}/catalogue`, {
      headers: { 'content-type': 'application/json' },
      ...(body === undefined ? {} : { method: 'POST', body: JSON.stringify(body) }),
    });
    return { status: answer.status, body: await answer.json() };
  };
  const told = async (jobId: string, body?: object): Promise<z.infer<typeof Answer>> =>
    Answer.parse((await ask(jobId, body)).body);
  const listed = async (): Promise<string> =>
    (await commandLine(['catalogue', 'list', '--simulated', '--json', '--catalogue', folder])).out;

  it('keeps its curves once: pressed twice it is the same card, and the answer says so', async () => {
    const first = await told(HARROW, {});
    const [gauge] = first.cards;
    expect(gauge).toMatchObject({ kind: 'gauge', new: true, simulated: true });
    const again = await told(HARROW, {});
    expect(again.cards).toEqual(first.cards.map((card) => ({ ...card, new: false })));
    expect(await listed()).toContain(`"id": "${gauge?.id}"`);
    // The command knows it too, and it stays marked: nobody gets it without asking for simulated ones.
    const byCommand = await commandLine(['catalogue', 'add', 'job.ndjson', '--json', '--catalogue', folder], {
      'job.ndjson': await readFile(join(demo(HARROW), 'job.ndjson')),
    });
    expect(byCommand.json()).toMatchObject({
      cards: first.cards.map(({ id }) => ({ id, new: false, simulated: true })),
    });
  });

  it('is looked up without making a catalogue, and known once it is kept', async () => {
    const before = await told(HARROW);
    expect(before.cards.map(({ id }) => id)).toEqual(before.cards.map(() => undefined));
    expect(await readdir(jobsFolder)).not.toContain('of');
    const kept = await told(HARROW, { model: 'Harrow Six coolant' });
    expect(await told(HARROW)).toEqual({
      ...kept,
      cards: kept.cards.map((card) => ({ ...card, new: false })),
    });
    expect(kept.model).toBe('Harrow Six coolant');
  });

  it('looks like what other jobs have measured, never like itself', async () => {
    expect((await told(HARROW, { model: 'Harrow Six coolant' })).looksLike).toBeUndefined();
    // The same gauge on another day is another job: its journal has another first line.
    const journal = await readJournal(join(jobsFolder, HARROW));
    if (journal.kind === 'refused') throw new Error(journal.message);
    const [first, ...rest] = journal.events;
    if (first?.kind !== 'job-opened') throw new Error('a journal begins with its opening');
    await mkdir(join(jobsFolder, 'again'));
    const lines = [{ ...first, vehicle: 'Harrow Six estate (1966)' }, ...rest].map(journalLine);
    await writeFile(join(jobsFolder, 'again', 'job.ndjson'), lines.join(''));
    const { looksLike } = await told('again');
    expect(looksLike?.names).toEqual(['Harrow Six coolant']);
    expect(looksLike?.share).toBeGreaterThan(0.8);
    expect((await told('tern-1100-fuel')).looksLike).toBeUndefined();
  });

  it.each([
    { what: 'a job that is not there', jobId: 'nobody', body: {}, is: [404, 'JOURNAL_MISSING'] },
    { what: 'a name that is no folder', jobId: '..', body: {}, is: [404, 'NOT_FOUND'] },
    {
      what: 'a model that is no name',
      jobId: HARROW,
      body: { model: 'two\nlines' },
      is: [422, 'BAD_REQUEST'],
    },
    { what: 'a wish that is none', jobId: HARROW, body: { simulated: false }, is: [422, 'BAD_REQUEST'] },
  ])('refuses $what', async ({ jobId, body, is: [status, code] }) => {
    const answer = await ask(jobId, body);
    expect(answer).toMatchObject({ status, body: { kind: 'refused', code } });
  });

  it('refuses to keep what is not finished (CATALOGUE_NOTHING_FINISHED), and has nothing to show of it', async () => {
    const file = join(jobsFolder, HARROW, 'job.ndjson');
    const text = await readFile(file, 'utf8');
    await writeFile(file, `${text.split('\n')[0] ?? ''}\n`);
    expect(await ask(HARROW, {})).toMatchObject({
      status: 422,
      body: { code: 'CATALOGUE_NOTHING_FINISHED' },
    });
    expect(await told(HARROW)).toEqual({ kind: 'job-in-catalogue', cards: [] });
  });

  it('says what the disk refuses', async () => {
    await mkdir(join(jobsFolder, 'of'));
    await writeFile(folder, 'a file where the folder should be');
    expect(await ask(HARROW, {})).toMatchObject({ status: 422, body: { code: 'CATALOGUE_NOT_OPENED' } });
  });

  it('may be looked up by who watches, and kept by who operates', () => {
    expect(needOf('GET', '/api/jobs/:jobId/catalogue')).toBe('watch');
    expect(needOf('POST', '/api/jobs/:jobId/catalogue')).toBe('operate');
  });
});

describe('the thread of the catalogue', () => {
  it('keeps a curve where it was told to, and answers after one refusal', { timeout: 30_000 }, async () => {
    const jobsFolder = await scratchFolder();
    const catalogueFolder = await scratchFolder();
    await cp(demo(HARROW), join(jobsFolder, HARROW), { recursive: true });
    const server = await startServer({ jobsFolder, catalogueFolder, listenPort: 0 });
    if (server.kind === 'refused') throw new Error(server.message);
    try {
      const keep = async (jobId: string): Promise<unknown> => {
        const headers = { 'content-type': 'application/json' };
        const path = `${server.url}/api/jobs/${jobId}/catalogue`;
        return (await fetch(path, { method: 'POST', headers, body: '{}' })).json();
      };
      expect(await keep('nobody')).toMatchObject({ code: 'JOURNAL_MISSING' });
      expect(Answer.parse(await keep(HARROW)).cards[0]).toMatchObject({ kind: 'gauge', new: true });
      expect(await readdir(catalogueFolder)).toContain('catalogue.sqlite');
    } finally {
      await server.close();
    }
  });
});
