import { connect, type Socket } from 'node:net';
import { afterEach, describe, expect, it } from 'vitest';
import { z } from 'zod';
import type { ServerLimits } from '../../host/server/limits';
import { paced } from '../../host/server/pace';
import { TokenBuckets } from '../../host/server/token-bucket';
import { sampleGauge } from '../e2e/sample-job';
import { hello, openTestHost, openTestScreen, type TestHost } from './support';

const opening = {
  title: 'Fuel gauge',
  gauge: sampleGauge,
  vehicle: 'Tern 1100 van (1971)',
  place: 'bench',
  simulated: false,
} as const;
const note = (id: number) => ({ kind: 'command', id, command: { kind: 'add-note', text: `note ${id}` } });

let host: TestHost | undefined;
const sockets: Socket[] = [];
afterEach(async () => {
  for (const socket of sockets.splice(0)) socket.destroy();
  await host?.close();
});

const opened = async (limits: Partial<ServerLimits>): Promise<TestHost> =>
  (host = await openTestHost({ limits }));

/** A connection that says what it is told to, or nothing. Resolves when it is there. */
const plug = (place: string, text = ''): Promise<Socket> =>
  new Promise((resolve) => {
    const [address, port] = place.split(':');
    const socket = connect(Number(port), address, () => {
      if (text !== '') socket.write(text);
      resolve(socket);
    });
    socket.on('error', () => undefined);
    sockets.push(socket);
  });
const ended = (socket: Socket): Promise<string> =>
  new Promise((resolve) => {
    let text = '';
    socket.on('data', (part: Buffer) => (text += part.toString('utf8')));
    socket.on('close', () => resolve(text));
  });
const isOpen = (socket: Socket): boolean => !socket.closed && !socket.readableEnded;

const stopTokenOf = async (place: string): Promise<string> => {
  const greeting = await fetch(`http://${place}/api/greeting`, { headers: { connection: 'close' } });
  return z.looseObject({ stopToken: z.string() }).parse(await greeting.json()).stopToken;
};
const stop = (place: string, token: string): Promise<Response> =>
  fetch(`http://${place}/api/stop`, {
    method: 'POST',
    headers: { 'content-type': 'application/json', connection: 'close' },
    body: JSON.stringify({ token }),
  });

describe('a host full of others', () => {
  it('answers STOP though more silent connections were made than it takes', async () => {
    const { place, bench } = await opened({ mostConnections: 8, connectionsForStop: 2 });
    const token = await stopTokenOf(place);
    const silent: Socket[] = [];
    for (let count = 0; count < 40; count += 1) silent.push(await plug(place));
    expect((await stop(place, token)).status).toBe(200);
    expect(bench.stops).toBe(1);
    await expect.poll(() => silent.filter(isOpen).length).toBeLessThanOrEqual(10);
  });

  it('answers STOP and nothing else when screens at work hold every connection', async () => {
    const { place, bench } = await opened({ mostConnections: 3, connectionsForStop: 2 });
    const token = await stopTokenOf(place);
    const screens = ['a', 'b', 'c'].map((name) => openTestScreen(place, { hello: hello(name) }));
    for (const screen of screens) await screen.next('welcome');
    const other = await fetch(`http://${place}/api/jobs`, { headers: { connection: 'close' } });
    expect(other.status).toBe(503);
    expect(await other.json()).toMatchObject({ code: 'HOST_FULL' });
    expect(await openTestScreen(place).closed).toBe(1006);
    expect((await stop(place, token)).status).toBe(200);
    expect(bench.stops).toBe(1);
    screens[0]?.say({ kind: 'stop', id: 1 });
    expect(await screens[0]?.next('stopped')).toMatchObject({ id: 1 });
  });

  it('lets a socket go that does not say hello', async () => {
    // Long enough that a crowded machine's polite page has said it, too.
    const { place } = await opened({ helloMs: 2_000 });
    const polite = openTestScreen(place);
    await polite.next('welcome');
    expect(await openTestScreen(place, { hello: undefined }).closed).toBe(4009);
    expect(polite.socket.readyState).toBe(polite.socket.OPEN);
  });

  it.each([
    ['head', 'POST /api/jobs HTTP/1.1\r\nhost: '],
    [
      'body',
      'POST /api/jobs HTTP/1.1\r\nhost: PLACE\r\ncontent-type: application/json\r\ncontent-length: 900\r\n\r\n{',
    ],
    ['first word', ''],
  ])('ends a request whose %s does not come', async (_what, text) => {
    const { place } = await opened({ requestMs: 200 });
    expect(await ended(await plug(place, text.replace('PLACE', place)))).toMatch(/^(?:HTTP\/1\.1 408|$)/);
  });

  it('refuses a device that asks too much at once, and never a STOP', async () => {
    const { place, bench } = await opened({ requests: { most: 5, perSecond: 0.001 } });
    const token = await stopTokenOf(place);
    const statuses = [];
    for (let count = 0; count < 6; count += 1)
      statuses.push(
        (await fetch(`http://${place}/api/greeting`, { headers: { connection: 'close' } })).status,
      );
    expect(statuses).toEqual([200, 200, 200, 200, 429, 429]);
    const refused = await fetch(`http://${place}/api/greeting`, { headers: { connection: 'close' } });
    expect(await refused.json()).toMatchObject({ kind: 'refused', code: 'TOO_FAST' });
    expect((await stop(place, token)).status).toBe(200);
    expect(bench.stops).toBe(1);
  });

  it('closes a socket that floods, and serves the others', async () => {
    const { place, bench } = await opened({ messages: { most: 20, perSecond: 0.001 } });
    const { jobId } = await bench.createJob(opening);
    const [flood, other] = ['flood', 'other'].map((name) => {
      const screen = openTestScreen(place, { hello: hello(name) });
      screen.say({ kind: 'follow', jobId, afterN: 0 });
      return screen;
    });
    await flood?.next('events');
    await other?.next('events');
    for (let id = 1; id <= 100; id += 1) flood?.say(note(id));
    expect(await flood?.closed).toBe(4008);
    other?.say(note(1));
    expect(await other?.next('accepted')).toMatchObject({ id: 1 });
    expect(bench.desks.get(jobId)?.events.length).toBeLessThan(25);
  });
});

describe('screens beyond the limit', () => {
  it('see fewer live frames and every event', async () => {
    const { place, bench } = await opened({ screensAtFullRate: 1, frameMs: 0, slowFrameMs: 3_600_000 });
    const desk = await bench.createJob(opening);
    const frames = [0, 0];
    const screens = ['first', 'second'].map((name) => openTestScreen(place, { hello: hello(name) }));
    for (const [index, screen] of screens.entries()) {
      await screen.next('welcome');
      screen.socket.on('message', (data: Buffer) => {
        if (data.toString('utf8').includes('"kind":"live"')) frames[index] = (frames[index] ?? 0) + 1;
      });
      screen.say({ kind: 'follow', jobId: desk.jobId, afterN: 0 });
      await screen.next('events');
    }
    for (let count = 0; count < 10; count += 1) desk.show({ output: { askedOhm: count } });
    screens[0]?.say(note(1));
    for (const screen of screens)
      expect((await screen.next('events')).events).toMatchObject([{ kind: 'note' }]);
    await expect.poll(() => frames[0]).toBeGreaterThan(10);
    expect(frames[1]).toBe(1);
  });

  it('are told the last of what was spared', async () => {
    const said: number[] = [];
    const pace = paced<number>({ everyMs: () => 20, say: (message) => said.push(message) });
    for (let count = 1; count <= 5; count += 1) pace.say(() => count);
    expect(said).toEqual([1]);
    await expect.poll(() => said).toEqual([1, 5]);
    pace.end();
  });
});

describe('the count of what a device asks', () => {
  it('fills again with time, for each device by itself', () => {
    let nowMs = 0;
    const buckets = new TokenBuckets({ most: 2, perSecond: 4 }, () => nowMs);
    expect([1, 2, 3].map(() => buckets.take('phone'))).toEqual([true, true, false]);
    expect(buckets.take('tablet')).toBe(true);
    nowMs = 250;
    expect([1, 2].map(() => buckets.take('phone'))).toEqual([true, false]);
    nowMs = 60_000;
    expect([1, 2, 3].map(() => buckets.take('phone'))).toEqual([true, true, false]);
  });
});
