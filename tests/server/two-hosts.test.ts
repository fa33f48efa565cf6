import { request } from 'node:http';
import { createServer } from 'node:net';
import { hostname } from 'node:os';
import { describe, expect, it, onTestFinished } from 'vitest';
import { z } from 'zod';
import { startServer, type RunningServer } from '../../host/server';
import { scratchFolder } from '../store/scratch';

const LONG = { timeout: 30_000 };
const Told = z.object({ device: z.string().optional(), right: z.string().optional() });
type Answer = z.infer<typeof Told> & { readonly cookie: string | undefined };

const freePort = (): Promise<number> =>
  new Promise((resolve) => {
    const probe = createServer();
    probe.listen(0, '127.0.0.1', () => {
      const address = probe.address();
      probe.close(() => resolve(address !== null && typeof address === 'object' ? address.port : 0));
    });
  });

/** As a page on another device asks: by the machine's name on the network. A browser sends every cookie of that name. */
const from = (port: number, jar: readonly string[], path: string, body?: object): Promise<Answer> =>
  new Promise((resolve, reject) => {
    const place = `${hostname().toLowerCase()}:${port}`;
    const headers = {
      host: place,
      origin: `http://${place}`,
      'content-type': 'application/json',
      cookie: jar.join('; '),
    };
    const method = body === undefined ? 'GET' : 'POST';
    const sent = request({ host: '127.0.0.1', port, path, method, headers, agent: false }, (response) => {
      let text = '';
      response.on('data', (part: Buffer) => (text += part.toString('utf8')));
      response.on('end', () =>
        resolve({
          ...Told.parse(JSON.parse(text)),
          cookie: response.headers['set-cookie']?.[0]?.split(';')[0],
        }),
      );
    });
    sent.on('error', reject);
    sent.end(body === undefined ? undefined : JSON.stringify(body));
  });

describe('two hosts on one machine, with one jobs folder', () => {
  it('keep their paired devices apart, over a restart and a removal', LONG, async () => {
    const jobsFolder = await scratchFolder();
    const [one, two] = [await freePort(), await freePort()];
    const running = new Map<number, RunningServer>();
    onTestFinished(async () => void (await Promise.all([...running.values()].map((each) => each.close()))));
    const start = async (listenPort: number): Promise<RunningServer> => {
      const host = await startServer({ jobsFolder, listenPort, isLan: true });
      if (host.kind === 'refused') throw new Error(host.message);
      running.set(listenPort, host);
      return host;
    };
    const jar: string[] = [];
    const pair = async (port: number, name: string): Promise<void> => {
      const { pairing } = running.get(port) ?? (await start(port));
      pairing.open('operate');
      const code = pairing.state.kind === 'open' ? pairing.state.code : '';
      const { cookie } = await from(port, jar, '/api/pair', { code, name });
      jar.push(cookie ?? 'none');
    };
    const known = async (): Promise<(string | undefined)[]> => [
      (await from(one, jar, '/api/greeting')).device,
      (await from(two, jar, '/api/greeting')).device,
    ];
    await start(one);
    await start(two);
    await pair(one, 'blue phone');
    await pair(two, 'tablet');
    expect(await known()).toEqual(['blue phone', 'tablet']);
    for (const port of [one, two]) {
      await running.get(port)?.close();
      await start(port);
    }
    expect(await known()).toEqual(['blue phone', 'tablet']);
    const devices = running.get(one)?.devices;
    expect(devices?.list().map(({ name }) => name)).toEqual(['blue phone']);
    await devices?.revoke(devices.list()[0]?.id ?? '');
    expect(await known()).toEqual([undefined, 'tablet']);
  });
});
