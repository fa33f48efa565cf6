import { get } from 'node:http';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { sampleGauge } from '../e2e/sample-job';
import { openTestHost, openTestScreen, type TestHost } from './support';

const opening = {
  title: 'Fuel gauge',
  gauge: sampleGauge,
  vehicle: 'Tern 1100 van (1971)',
  place: 'bench',
  simulated: false,
};

describe('the HTTP API', () => {
  let host: TestHost;
  beforeAll(async () => void (host = await openTestHost()));
  afterAll(() => host.close());
  const url = (path: string): string => `http://${host.place}${path}`;
  const post = (path: string, body: unknown): Promise<Response> =>
    fetch(url(path), {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(body),
    });

  it('opens a job, lists it, and gives its journal', async () => {
    const made = await post('/api/jobs', opening);
    expect(made.status).toBe(200);
    const { jobId } = z.object({ jobId: z.string() }).parse(await made.json());
    const listed = await (await fetch(url('/api/jobs'))).text();
    expect(listed).toContain(`"jobId":"${jobId}"`);
    const job = await (await fetch(url(`/api/jobs/${jobId}`))).text();
    expect(job).toContain('"kind":"job-opened"');
  });

  it.each([
    ['an empty object', {}, /title/],
    ['a list', [], /must be an object/],
    ['an unknown field', { ...opening, colour: 'red' }, /colour/],
    [
      'marks that run both ways',
      {
        ...opening,
        gauge: {
          ...sampleGauge,
          marks: [...sampleGauge.marks].map((mark, index) => ({ ...mark, reading: index % 2 })),
        },
      },
      /marks/,
    ],
  ])('refuses to open a job from %s, with the place', async (_what, body, place) => {
    const answer = await post('/api/jobs', body);
    expect(answer.status).toBe(422);
    expect(await answer.text()).toMatch(place);
  });

  it('archives, deletes, brings back and begins a job again, each by its route', async () => {
    const { jobId } = await host.bench.createJob({ ...opening, place: 'bench' });
    const listed = async (): Promise<string> => (await fetch(url('/api/jobs'))).text();
    expect((await post(`/api/jobs/${jobId}/archive`, {})).status).toBe(422);
    expect((await post(`/api/jobs/${jobId}/archive`, { archived: true })).status).toBe(200);
    expect(await listed()).toContain('"archived":true');
    const { name } = z
      .object({ name: z.string() })
      .parse(await (await post(`/api/jobs/${jobId}/delete`, {})).json());
    expect(await listed()).not.toContain(`"jobId":"${jobId}"`);
    expect((await post('/api/deleted/nothing/restore', {})).status).toBe(404);
    expect((await post(`/api/deleted/${name}/restore`, {})).status).toBe(200);
    expect(await listed()).toContain(`"jobId":"${jobId}"`);
    const again = await (await post(`/api/jobs/${jobId}/duplicate`, {})).text();
    expect(again).toMatch(/^{"jobId":"job-\d+"}$/);
    expect((await post('/api/jobs/nothing/duplicate', {})).status).toBe(404);
    expect((await post('/api/example', {})).status).toBe(404);
  });

  it('takes commands with a name and refuses those of a job that is not there', async () => {
    const desk = await host.bench.createJob({ ...opening, place: 'bench' });
    const command = { command: { kind: 'add-note', text: 'by program' } };
    expect(await (await post(`/api/jobs/${desk.jobId}/commands`, command)).json()).toMatchObject({
      kind: 'accepted',
    });
    expect(desk.events.at(-1)).toMatchObject({ by: 'program' });
    expect((await post('/api/jobs/nowhere/commands', command)).status).toBe(404);
  });

  it('computes the findings of a job without readings as none', async () => {
    const desk = await host.bench.createJob({ ...opening, place: 'bench' });
    expect(await (await fetch(url(`/api/jobs/${desk.jobId}/findings`))).json()).toEqual({ senders: [] });
  });

  it('goes on after a request that throws', async () => {
    const desk = await host.bench.createJob({ ...opening, place: 'bench' });
    const thrown = await post(`/api/jobs/${desk.jobId}/commands`, {
      command: { kind: 'add-note', text: 'throw' },
    });
    expect(thrown.status).toBe(500);
    expect(await thrown.text()).not.toContain('asked to throw');
    expect((await fetch(url('/api/jobs'))).status).toBe(200);
  });

  it('refuses a body that is too large or is not JSON', async () => {
    expect((await post('/api/jobs', { title: 'x'.repeat(300_000) })).status).toBe(413);
    const broken = await fetch(url('/api/jobs'), {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: '{"title":',
    });
    expect(broken.status).toBe(400);
    const plain = await fetch(url('/api/jobs'), { method: 'POST', body: 'title=x' });
    expect(plain.status).toBe(403);
  });

  it('sends the security headers with every answer, refusals included', async () => {
    for (const path of ['/api/jobs', '/nothing/here']) {
      const policy = (await fetch(url(path))).headers.get('content-security-policy') ?? '';
      expect(policy).toContain("default-src 'none'");
      expect(policy).toContain("connect-src 'self'");
      expect(policy).not.toContain('unsafe');
    }
  });

  it('takes no name from a message', async () => {
    const desk = await host.bench.createJob({ ...opening, place: 'bench' });
    const answer = await post(`/api/jobs/${desk.jobId}/commands`, {
      by: 'bench',
      command: { kind: 'add-note', text: 'not mine' },
    });
    expect(answer.status).toBe(422);
    expect(await answer.text()).toContain('by');
    expect(desk.events).toHaveLength(1);
  });

  it.each(['%20', '%00', '%0A', `${'x'.repeat(201)}`])('knows no job of the name %s', async (jobId) => {
    for (const path of [`/api/jobs/${jobId}`, `/api/jobs/${jobId}/findings`])
      expect((await fetch(url(path))).status).toBe(404);
    const command = { command: { kind: 'add-note', text: 'x' } };
    expect((await post(`/api/jobs/${jobId}/commands`, command)).status).toBe(404);
  });

  it.each(['%ff', '%', '%zz'])('knows nothing under %s, which is no address', async (jobId) => {
    const answer = await fetch(url(`/api/jobs/${jobId}`));
    expect(answer.status).toBe(404);
    expect(await answer.json()).toMatchObject({ kind: 'refused', code: 'NOT_FOUND' });
    expect(answer.headers.get('content-security-policy')).toContain("default-src 'none'");
  });

  it('refuses a page of another port of this machine and a foreign name', async () => {
    const [, port] = host.place.split(':');
    const ask = (headers: Record<string, string>): Promise<number> => statusOf(url('/api/jobs'), headers);
    expect(await ask({ host: `evil.example:${port}` })).toBe(403);
    expect(await ask({ host: '127.0.0.1:1' })).toBe(403);
    expect(await ask({ origin: 'http://evil.example' })).toBe(403);
    expect(await ask({ origin: 'http://127.0.0.1:3000' })).toBe(403);
    expect(await ask({ 'sec-fetch-site': 'same-site', 'sec-fetch-mode': 'no-cors' })).toBe(403);
    expect(await ask({ origin: `http://${host.place}` })).toBe(200);
    const socket = openTestScreen(host.place, { headers: { origin: 'http://127.0.0.1:3000' } });
    expect(await socket.closed).toBe(1006);
  });
});

/** By the plain client: the one of the browsers' kind may not say whom it calls. */
const statusOf = (address: string, headers: Record<string, string>): Promise<number> =>
  new Promise((resolve, reject) => {
    get(address, { headers, agent: false }, (response) => {
      response.resume();
      resolve(response.statusCode ?? 0);
    }).on('error', reject);
  });
