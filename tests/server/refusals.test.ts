import { execFile } from 'node:child_process';
import { mkdir, symlink } from 'node:fs/promises';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { promisify } from 'node:util';
import { build } from 'esbuild';
import { afterEach, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { knownCallers } from '../../host/server/callers';
import { Devices } from '../../host/server/devices';
import { Pairing } from '../../host/server/pairing';
import { JOURNAL_FILE, readJournal } from '../../host/store';
import { scratchFolder } from '../store/scratch';
import { openTestHost, type TestHost } from './support';

let host: TestHost | undefined;
afterEach(() => host?.close());

const refusal = z.object({ kind: z.string(), code: z.string(), message: z.string() });

const asked = async (path: string, text?: string): Promise<{ status: number; body: unknown }> => {
  const answer = await fetch(`http://${host?.place}${path}`, {
    headers: { 'content-type': 'application/json' },
    ...(text === undefined ? {} : { method: 'POST', body: text }),
  });
  const body: unknown = await answer.json();
  return { status: answer.status, body };
};

/** A program that writes its requests by hand gets them wrong; each answer says what was wrong. */
describe('a request that cannot be answered', () => {
  it.each([
    { what: 'an address that is none', path: '/api/nothing', is: [404, 'NOT_FOUND'], says: /./ },
    { what: 'a job that is none', path: '/api/jobs/nobody-made-it', is: [404, 'JOURNAL_MISSING'], says: /./ },
    {
      what: 'text that is no JSON',
      path: '/api/jobs',
      text: '{"title":',
      is: [400, 'REQUEST_FAILED'],
      says: /JSON/,
    },
    {
      what: 'JSON that opens no job',
      path: '/api/jobs',
      text: '{"title":7}',
      is: [422, 'BAD_REQUEST'],
      says: /title/,
    },
    {
      what: 'a bath where no bench is simulated',
      path: '/api/world',
      text: '{"bath":"off"}',
      is: [422, 'NOT_SIMULATED'],
      says: /simulated/,
    },
    {
      what: 'pairing where nobody else can call',
      path: '/api/pairing',
      text: '{"kind":"open","right":"operate"}',
      is: [422, 'NOT_ON_LAN'],
      says: /--lan/,
    },
  ])('$what', async ({ path, text, is, says }) => {
    host = await openTestHost();
    const { status, body } = await asked(path, text);
    const { kind, code, message } = refusal.parse(body);
    expect([kind, status, code]).toEqual(['refused', ...is]);
    expect(message).toMatch(says);
  });
});

describe('a device that wants to be let in', () => {
  it('under the name by which the program signs is refused, and the code stays good', async () => {
    const pairing = new Pairing();
    host = await openTestHost({
      callers: knownCallers(true, () => ({ names: [], addresses: [] })),
      devices: new Devices(undefined),
      pairing,
    });
    pairing.open('operate');
    const code = pairing.state.kind === 'open' ? pairing.state.code : '';
    const pair = (name: string) => asked('/api/pair', JSON.stringify({ code, name }));
    for (const name of ['bench', 'Bench ', 'BENCH'])
      expect(await pair(name)).toMatchObject({ body: { code: 'NAME_TAKEN' } });
    expect(await pair('phone')).toMatchObject({ status: 200, body: { device: 'phone' } });
  });

  it('is refused when the list is full, and may come when one was removed', async () => {
    const devices = new Devices(undefined);
    let last = await devices.add('phone', 'watch');
    for (let more = 0; more < 1_000 && last.kind === 'added'; more += 1)
      last = await devices.add('phone', 'watch');
    expect(last).toMatchObject({ kind: 'refused', code: 'DEVICES_FULL' });
    const [first] = devices.list();
    await devices.revoke(first?.id ?? '');
    expect(await devices.add('phone', 'watch')).toMatchObject({ kind: 'added' });
  });
});

describe('a program that was started from half of what belongs to it', () => {
  it('does not serve an empty page: it says what to build', async () => {
    const folder = await scratchFolder();
    const outfile = join(import.meta.dirname, '..', '..', '.test-output', 'not-built', 'server', 'serve.mjs');
    await build({
      entryPoints: [join(import.meta.dirname, '..', '..', 'host', 'server', 'serve.ts')],
      outfile,
      bundle: true,
      platform: 'node',
      format: 'esm',
      packages: 'external',
      logLevel: 'error',
    });
    const program = `
      const { startServer } = await import(process.argv[1]);
      const { code } = await startServer({ jobsFolder: process.argv[2], listenPort: 0 });
      console.log(code);
    `;
    const argv = ['--input-type=module', '--eval', program, pathToFileURL(outfile).href, folder];
    const { stdout } = await promisify(execFile)(process.execPath, argv);
    expect(stdout.trim()).toBe('PAGE_NOT_BUILT');
  });
});

describe('a journal', () => {
  it('that leads back to itself cannot be read, and the sentence names it', async () => {
    const folder = join(await scratchFolder(), 'job');
    await mkdir(folder);
    const file = join(folder, JOURNAL_FILE);
    await symlink(file, file);
    const read = await readJournal(folder);
    expect(read).toMatchObject({ kind: 'refused', code: 'JOURNAL_UNREADABLE' });
    expect(read.kind === 'refused' ? read.message : '').toContain(file);
  });
});
