import { mkdtempSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { startServer } from '../../host/server';

const jobsFolder = mkdtempSync(join(tmpdir(), 'needlewright-serve-'));
afterAll(() => rmSync(jobsFolder, { recursive: true, force: true }));

describe('startServer', () => {
  it('refuses an address that lets others in unless a person said so', async () => {
    expect(await startServer({ jobsFolder, listenHost: '0.0.0.0' })).toMatchObject({
      code: 'LISTEN_NEEDS_LAN',
    });
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
});
