import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { startServer, type RunningServer } from '../../host/server';
import { opening } from '../bench/setup';
import { jpeg, LATITUDE, png, SECRETS, telephoneJpeg } from '../support/pictures';

let folder: string;
let server: RunningServer;
let jobId: string;

const answer = z.looseObject({
  kind: z.string().optional(),
  code: z.string().optional(),
  message: z.string().optional(),
});
const json = async (response: Response) => answer.parse(await response.json());
const at = (path: string): string => `${server.url}/api/jobs/${path}`;
const post = (path: string, type: string, body: Uint8Array | string): Promise<Response> =>
  fetch(at(path), {
    method: 'POST',
    headers: { 'content-type': type },
    body: typeof body === 'string' ? body : Uint8Array.from(body),
  });
const add = (bytes: Uint8Array, of = 'gauge', type = 'image/jpeg'): Promise<Response> =>
  post(`${jobId}/photographs?of=${of}`, type, bytes);
const command = (body: object): Promise<Response> =>
  post(`${jobId}/commands`, 'application/json', JSON.stringify({ command: body }));

const jobView = z.object({
  state: z.object({
    photographs: z.array(
      z.looseObject({
        photographId: z.string(),
        file: z.string(),
        of: z.string(),
        struckBecause: z.string().optional(),
      }),
    ),
  }),
});
const photographs = async () => jobView.parse(await (await fetch(at(jobId))).json()).state.photographs;
const pictures = (): string[] =>
  readdirSync(join(folder, jobId)).filter((name) => /\.(?:jpg|png)$/.test(name));

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'photographs-'));
  const started = await startServer({ jobsFolder: folder, listenPort: 0 });
  if (started.kind === 'refused') throw new Error(started.message);
  server = started;
  const made = await fetch(`${server.url}/api/jobs`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(opening),
  });
  ({ jobId } = z.object({ jobId: z.string() }).parse(await made.json()));
});
afterAll(async () => {
  await server.close();
  rmSync(folder, { recursive: true, force: true });
});

describe('photographs by HTTP', () => {
  it('are kept in the folder of the job without place, camera or words, and come back as they are kept', async () => {
    expect(await json(await add(telephoneJpeg()))).toMatchObject({ kind: 'accepted' });
    expect(await json(await add(png(), 'as-found', 'image/png'))).toMatchObject({ kind: 'accepted' });
    const [one, other] = await photographs();
    expect([one?.of, other?.of]).toEqual(['gauge', 'as-found']);
    for (const [type, { photographId = '', file = '' } = {}] of [
      ['image/jpeg', one],
      ['image/png', other],
    ] as const) {
      const bytes = readFileSync(join(folder, jobId, file));
      for (const secret of [...SECRETS, LATITUDE]) expect(bytes.includes(secret)).toBe(false);
      const got = await fetch(at(`${jobId}/photographs/${photographId}`));
      expect(got.headers.get('content-type')).toBe(type);
      expect(got.headers.get('cache-control')).toBe('no-store');
      expect(Buffer.from(await got.arrayBuffer()).equals(bytes)).toBe(true);
    }
  });

  it('are kept once, however often one presses', async () => {
    const before = pictures().length;
    expect(await json(await add(telephoneJpeg()))).toMatchObject({ kind: 'accepted' });
    expect(pictures()).toHaveLength(before);
  });

  it('are deleted with their bytes; nothing brings them back, and another client gets no older copy', async () => {
    const picture = jpeg({ widthPixel: 200 });
    await add(picture, 'sender');
    const added = (await photographs()).at(-1);
    expect(pictures()).toContain(added?.file);
    const strike = { kind: 'strike-photograph', photographId: added?.photographId, reason: 'deleted' };
    expect(await json(await command(strike))).toMatchObject({ kind: 'accepted' });
    expect(pictures()).not.toContain(added?.file);
    expect((await fetch(at(`${jobId}/photographs/${added?.photographId}`))).status).toBe(404);
    await command({ kind: 'undo' });
    expect((await photographs()).at(-1)?.struckBecause).toBe('deleted');
    expect(await json(await command(strike))).toMatchObject({ code: 'ALREADY_STRUCK' });
  });

  it.each([
    [
      'what is no picture, whatever it calls itself',
      'image/jpeg',
      Buffer.from('<html>'),
      'PHOTOGRAPH_NO_PICTURE',
    ],
    ['a body of another kind', 'application/octet-stream', jpeg(), 'UNKNOWN_CALLER'],
    ['a page in JSON', 'application/json', Buffer.from('{"a":1}'), 'PHOTOGRAPH_NO_PICTURE'],
    ['more than a job keeps', 'image/jpeg', Buffer.alloc(3 * 2 ** 20, 0xff), 'PHOTOGRAPH_TOO_LARGE'],
    ['a thumbnail', 'image/jpeg', jpeg({ widthPixel: 16, heightPixel: 16 }), 'PHOTOGRAPH_TOO_SMALL'],
  ])('are refused, and nothing is written: %s', async (_, type, bytes, code) => {
    const before = pictures();
    const refused = await json(await add(bytes, 'gauge', type));
    expect(refused.code).toBe(code);
    expect(refused.message?.length).toBeGreaterThan(20);
    expect(pictures()).toEqual(before);
  });

  it.each(['..%2F..%2Fsecret.txt', '..%2Fjob.ndjson', 'job.ndjson', 'f1%00.jpg', 'photograph-f2.jpg'])(
    'are called by their number in the journal, and no path leads out of it: %s',
    async (path) => {
      writeFileSync(join(folder, 'secret.txt'), 'secret');
      const got = await fetch(at(`${jobId}/photographs/${path}`));
      expect(got.status).toBeGreaterThanOrEqual(400);
      expect(await got.text()).not.toMatch(/^secret|job-opened/);
    },
  );

  it.each(['..%2Felsewhere', '..%2F', '%2e%2e%2felsewhere'])(
    'go into no folder that is no job: %s',
    async (name) => {
      const refused = await post(`${name}/photographs?of=gauge`, 'image/jpeg', jpeg());
      expect(refused.status).toBe(404);
      expect(existsSync(join(folder, '..', 'elsewhere'))).toBe(false);
    },
  );

  it('are of a subject from the list, and a body of JSON goes into no other route as a picture', async () => {
    expect((await json(await add(jpeg(), '../../x'))).code).toBe('BAD_REQUEST');
    const noPicture = await post(`${jobId}/commands`, 'image/jpeg', jpeg());
    expect(noPicture.ok).toBe(false);
  });

  it('are not shown once their file is another one', async () => {
    await add(jpeg({ widthPixel: 240 }), 'wiring');
    const { photographId, file } = (await photographs()).at(-1) ?? { photographId: '', file: '' };
    writeFileSync(join(folder, jobId, file), jpeg({ widthPixel: 248 }));
    expect(await json(await fetch(at(`${jobId}/photographs/${photographId}`)))).toMatchObject({
      code: 'PHOTOGRAPH_GONE',
    });
  });

  it('are at most twelve', async () => {
    for (let turn = 0; turn < 13; turn += 1) await add(jpeg({ widthPixel: 304 + 8 * turn }), 'other');
    const kept = (await photographs()).filter(({ struckBecause }) => struckBecause === undefined);
    expect(kept).toHaveLength(12);
    expect((await json(await add(jpeg({ widthPixel: 800 })))).code).toBe('PHOTOGRAPHS_FULL');
  });
});
