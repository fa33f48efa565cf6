import { request as ask } from 'node:http';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { knownCallers } from '../../host/server/callers';
import { Devices } from '../../host/server/devices';
import { Pairing } from '../../host/server/pairing';
import { sampleGauge } from '../e2e/sample-job';
import { hello, openTestHost, openTestScreen, type TestHost } from './support';

/** A name of this machine on an invented network: who calls it by that is not "here". */
const LAN_NAME = 'garage.test';
const opening = {
  title: 'Fuel gauge',
  gauge: sampleGauge,
  vehicle: 'Tern 1100 van (1971)',
  place: 'bench',
  simulated: false,
} as const;
const startSweep = { kind: 'start-sweep', choice: { mode: 'step-and-read' } };
const note = { kind: 'add-note', text: 'from afar' };
const CONFIRM = { kind: 'confirm-safety', confirmation: 'engine-cold', probeCelsius: 21 };

type Answer = { readonly status: number; readonly body: unknown; readonly cookie: string | undefined };

describe('a device of the local network', () => {
  let host: TestHost;
  let devices: Devices;
  let pairing: Pairing;
  let jobId: string;
  const lanHost = (): string => host.place.replace('127.0.0.1', LAN_NAME);
  beforeEach(async () => {
    devices = new Devices(undefined);
    pairing = new Pairing();
    const callers = knownCallers(true, () => ({ names: [LAN_NAME], addresses: ['192.168.7.20'] }));
    host = await openTestHost({ callers, devices, pairing });
    ({ jobId } = await host.bench.createJob(opening));
  });
  afterEach(() => host.close());

  /** As a page on that device asks. */
  const from = (cookie: string | undefined, path: string, body?: object): Promise<Answer> =>
    new Promise((resolve, reject) => {
      const sent = ask(
        `http://${host.place}${path}`,
        {
          method: body === undefined ? 'GET' : 'POST',
          agent: false,
          headers: {
            host: lanHost(),
            origin: `http://${lanHost()}`,
            'content-type': 'application/json',
            ...(cookie === undefined ? {} : { cookie }),
          },
        },
        (response) => {
          let text = '';
          response.on('data', (part: Buffer) => (text += part.toString('utf8')));
          response.on('end', () =>
            resolve({
              status: response.statusCode ?? 0,
              body: text === '' ? undefined : JSON.parse(text),
              cookie: response.headers['set-cookie']?.[0],
            }),
          );
        },
      );
      sent.on('error', reject);
      sent.end(body === undefined ? undefined : JSON.stringify(body));
    });

  const paired = async (right: 'watch' | 'operate'): Promise<string> => {
    pairing.open(right);
    const { state } = pairing;
    const code = state.kind === 'open' ? state.code : '';
    const answer = await from(undefined, '/api/pair', { code, name: 'phone' });
    expect(answer).toMatchObject({ status: 200, body: { device: 'phone', right } });
    expect(answer.cookie).toMatch(/; HttpOnly; SameSite=Strict$/);
    expect(JSON.stringify(answer.body)).not.toContain('token');
    return answer.cookie?.split(';')[0] ?? '';
  };
  const screenOf = (cookie: string) => {
    const headers = { host: lanHost(), origin: `http://${lanHost()}`, cookie };
    const screen = openTestScreen(host.place, { headers, hello: hello('bench', 'k') });
    screen.say({ kind: 'follow', jobId, afterN: 0 });
    return screen;
  };

  it('that is not paired sees nothing and drives nothing', async () => {
    for (const path of ['/api/jobs', `/api/jobs/${jobId}`, '/api/host', '/api/ports'])
      expect(await from(undefined, path)).toMatchObject({ status: 401, body: { code: 'NOT_PAIRED' } });
    for (const path of ['/api/jobs', '/api/box', '/api/world', `/api/jobs/${jobId}/commands`])
      expect((await from('needlewright-0=x.y', path, {})).status).toBe(401);
    const headers = { host: lanHost(), origin: `http://${lanHost()}` };
    expect(await openTestScreen(host.place, { headers }).closed).toBe(1006);
    expect(await from(undefined, '/api/greeting')).toMatchObject({ body: { isHost: false, isLan: true } });
  });

  it('that is not paired stops every box all the same, with the token its page carries', async () => {
    const greeting = z
      .looseObject({ stopToken: z.string() })
      .parse((await from(undefined, '/api/greeting')).body);
    const stop = (token: string) => from(undefined, '/api/stop', { token });
    expect(await stop('guessed')).toMatchObject({ status: 403, body: { code: 'STOP_TOKEN' } });
    expect(host.bench.stops).toBe(0);
    for (let pressed = 1; pressed <= 3; pressed += 1)
      expect(await stop(greeting.stopToken)).toMatchObject({ status: 200, body: { outcome: 'no-box' } });
    const stops = host.bench.desks.get(jobId)?.events.filter((event) => event.kind === 'stopped');
    expect(stops).toMatchObject([{ by: 'a page at 127.0.0.1' }]);
  });

  it('lets no device in and changes no list, paired or not: that is done at the host', async () => {
    const cookie = await paired('operate');
    for (const path of ['/api/pairing', '/api/devices', '/api/%64evices', '/api/devices/x'])
      expect((await from(cookie, path)).status).not.toBe(200);
    expect(await from(cookie, '/api/pairing', { kind: 'open', right: 'operate' })).toMatchObject({
      status: 403,
      body: { code: 'HOST_ONLY' },
    });
    expect((await from(cookie, '/api/devices/x', { kind: 'remove' })).status).toBe(403);
    expect(pairing.state.kind).toBe('closed');
  });

  it('that may watch sees everything and cannot confirm, arm, start, type or choose the box', async () => {
    const cookie = await paired('watch');
    const screen = screenOf(cookie);
    expect(await screen.next('welcome')).toMatchObject({ by: 'phone', right: 'watch' });
    await screen.next('events');
    screen.say({ kind: 'present' });
    for (const [id, command] of [startSweep, note, CONFIRM, { kind: 'take-over' }].entries()) {
      screen.say({ kind: 'command', id, command });
      expect(await screen.next('refused')).toMatchObject({ id, code: 'WATCH_ONLY' });
      expect((await from(cookie, `/api/jobs/${jobId}/commands`, { command })).status).toBe(403);
    }
    expect((await from(cookie, '/api/jobs', opening)).status).toBe(403);
    expect((await from(cookie, '/api/box', { kind: 'none' })).status).toBe(403);
    expect((await from(cookie, '/api/jobs')).status).toBe(200);
    expect([...(host.bench.desks.get(jobId)?.screens ?? [])]).toEqual([]);
    screen.say({ kind: 'stop', id: 9 });
    expect(await screen.next('stopped')).toMatchObject({ id: 9 });
  });

  it('that may operate signs with its own name, whatever it calls itself', async () => {
    const screen = screenOf(await paired('operate'));
    expect(await screen.next('welcome')).toMatchObject({ by: 'phone', right: 'operate' });
    await screen.next('events');
    screen.say({ kind: 'command', id: 1, command: note });
    expect((await screen.next('events')).events).toMatchObject([{ by: 'phone' }]);
  });

  it('that loses its right to operate counts as nobody at once, and is let go when it is removed', async () => {
    const cookie = await paired('operate');
    const screen = screenOf(cookie);
    await screen.next('events');
    const desk = host.bench.desks.get(jobId);
    expect([...(desk?.screens ?? [])]).toEqual(['phone']);
    const [device] = devices.list();
    await devices.setRight(device?.id ?? '', 'watch');
    expect([...(desk?.screens ?? [])]).toEqual([]);
    screen.say({ kind: 'command', id: 1, command: note });
    expect(await screen.next('refused')).toMatchObject({ code: 'WATCH_ONLY' });
    await devices.revoke(device?.id ?? '');
    expect(await screen.closed).toBe(4001);
    expect((await from(cookie, '/api/jobs')).status).toBe(401);
  });

  it('is told of the rest after ten wrong codes', async () => {
    pairing.open('operate');
    const wrong = { token: 'wrong', name: 'phone' };
    for (let tries = 0; tries < 10; tries += 1)
      expect((await from(undefined, '/api/pair', wrong)).body).toMatchObject({ code: 'CODE_WRONG' });
    expect((await from(undefined, '/api/pair', wrong)).body).toMatchObject({ code: 'PAIRING_PAUSED' });
  });

  it.each(['', 'x'.repeat(41), 'two\nlines', 'in\u200bvisible', 'bench'])(
    'is not called %j',
    async (name) => {
      pairing.open('operate');
      const { state } = pairing;
      const code = state.kind === 'open' ? state.code : '';
      expect((await from(undefined, '/api/pair', { code, name })).status).toBe(422);
      expect(devices.list()).toEqual([]);
    },
  );
});
