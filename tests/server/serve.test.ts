import { fileURLToPath } from 'node:url';
import { mkdtempSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { startServer } from '../../host/server';
import { simulatedProgram } from '../support/simulated-program';

const jobsFolder = mkdtempSync(join(tmpdir(), 'needlewright-serve-'));
afterAll(() => rmSync(jobsFolder, { recursive: true, force: true }));

simulatedProgram();

const LONG = { timeout: 20_000 };
const Made = z.object({ jobId: z.string() });
const opening = {
  title: 'Marlow Tourer, oil',
  vehicle: 'Marlow Tourer (1958)',
  place: 'bench',
  simulated: true,
  gauge: {
    quantity: 'pressure',
    mechanism: 'moving-coil',
    unit: 'kPa',
    marks: [
      { label: '0', reading: 0, angleFraction: 0 },
      { label: '6', reading: 600, angleFraction: 1 },
    ],
  },
};

const post = async (url: string, body: object): Promise<unknown> => {
  const headers = { 'content-type': 'application/json' };
  return (await fetch(url, { method: 'POST', headers, body: JSON.stringify(body) })).json();
};

describe('startServer', () => {
  it('refuses an address that lets others in unless a person said so', async () => {
    expect(await startServer({ jobsFolder, listenHost: '0.0.0.0' })).toMatchObject({
      code: 'LISTEN_NEEDS_LAN',
    });
  });

  it('says at the start that no jobs can be kept where a file lies', async () => {
    const refused = await startServer({ jobsFolder: fileURLToPath(import.meta.url), listenPort: 0 });
    expect(refused).toMatchObject({ kind: 'refused', code: 'JOBS_FOLDER' });
  });

  it('says that the port is taken and how to choose another', async () => {
    const taken = createServer();
    const port = await new Promise<number>((resolve) =>
      taken.listen(0, '127.0.0.1', () => {
        const address = taken.address();
        resolve(address !== null && typeof address === 'object' ? address.port : 0);
      }),
    );
    const refused = await startServer({ jobsFolder, listenPort: port });
    expect(refused).toMatchObject({ kind: 'refused', code: 'LISTEN_FAILED' });
    if (refused.kind === 'refused') expect(refused.message).toContain(`${port} is taken`);
    await new Promise((resolve) => taken.close(resolve));
  });

  it('serves the page and offers the simulated vehicles; closing twice is fine', async () => {
    const server = await startServer({ jobsFolder, listenPort: 0 });
    if (server.kind === 'refused') throw new Error(server.message);
    expect(await (await fetch(server.url)).text()).toContain('<title>Needlewright</title>');
    expect(await (await fetch(`${server.url}/api/host`)).text()).toContain('"two-coil-fuel"');
    expect(await server.bay.choose({ kind: 'simulated', gauge: 'warp-drive' })).toMatchObject({
      code: 'NO_SUCH_SIMULATED_GAUGE',
    });
    await server.close();
    await server.close();
  });

  it('says that the port it was given is no serial device, and serves without a box', async () => {
    const box = { kind: 'port', path: jobsFolder } as const;
    const server = await startServer({ jobsFolder, listenPort: 0, box });
    if (server.kind === 'refused') throw new Error(server.message);
    expect(server.warnings.join('\n')).toContain(`${jobsFolder} is no serial device`);
    expect(server.bay.choice).toEqual({ kind: 'none' });
    await server.close();
  });

  it('takes the simulated sender out of its bath for a sweep that starts, and for none that is refused', async () => {
    const server = await startServer({
      jobsFolder,
      listenPort: 0,
      box: { kind: 'simulated', gauge: 'moving-coil-pressure' },
    });
    if (server.kind === 'refused') throw new Error(server.message);
    try {
      const looks: (number | undefined)[] = [];
      server.bay.subscribeDash((_gauge, look) => looks.push(look.thermometer));
      await expect.poll(() => server.bay.link.state, LONG).toBe('live');
      const jobs = `${server.url}/api/jobs`;
      const made = Made.parse(await post(jobs, opening));
      const start = (choice: object): Promise<unknown> =>
        post(`${jobs}/${made.jobId}/commands`, {
          command: { kind: 'start-sweep', choice: { mode: 'step-and-read', ...choice } },
        });
      server.bay.tellWorld({ bath: { sender: 'original', holdAt: 200 } });
      await expect.poll(() => looks.at(-1), LONG).toBeDefined();
      expect(await start({ fromOhm: 100, toOhm: 100 })).toMatchObject({ code: 'PLAN_RANGE' });
      const before = looks.length;
      await expect.poll(() => looks.length, LONG).toBeGreaterThan(before + 5);
      expect(looks.slice(before)).not.toContain(undefined);
      expect(await start({})).toMatchObject({ kind: 'accepted' });
      await expect.poll(() => looks.at(-1), LONG).toBeUndefined();
    } finally {
      await server.close();
    }
  });
});
