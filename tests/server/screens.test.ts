import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { sampleGauge } from '../e2e/sample-job';
import { hello, openTestHost, openTestScreen, type TestHost } from './support';

const opening = {
  title: 'Fuel gauge',
  gauge: sampleGauge,
  vehicle: 'Tern 1100 van (1971)',
  place: 'bench',
  simulated: false,
} as const;

const note = (id: number, text: string) => ({ kind: 'command', id, command: { kind: 'add-note', text } });

describe("the screens' sockets", () => {
  let host: TestHost;
  let jobId: string;
  beforeEach(async () => {
    host = await openTestHost();
    ({ jobId } = await host.bench.createJob(opening));
  });
  afterEach(() => host.close());

  const screen = (name: string, afterN = 0) => {
    const opened = openTestScreen(host.place, { hello: hello(name) });
    opened.say({ kind: 'follow', jobId, afterN });
    return opened;
  };

  it('sends a new screen the whole journal and the present moment', async () => {
    const one = screen('one');
    expect((await one.next('events')).events.map((event) => event.n)).toEqual([1]);
    expect((await one.next('live')).frame.present).toEqual(['one']);
  });

  it('sends a screen that was away only what it has missed', async () => {
    const one = screen('one');
    await one.next('events');
    one.say(note(1, 'first'));
    one.say(note(2, 'second'));
    await one.next('accepted');
    await one.next('accepted');
    one.socket.terminate();
    const again = screen('one', 2);
    expect((await again.next('events')).events.map((event) => event.n)).toEqual([3]);
  });

  it('shows every screen what one of them said, in the order of the journal', async () => {
    const one = screen('one');
    const other = screen('other');
    await one.next('events');
    await other.next('events');
    one.say(note(1, 'from one'));
    other.say(note(1, 'from other'));
    const seen = await Promise.all(
      [one, other].map(async (each) => [
        ...(await each.next('events')).events,
        ...(await each.next('events')).events,
      ]),
    );
    expect(seen[0]).toEqual(seen[1]);
    expect(new Set(seen[0]?.map((event) => event.by))).toEqual(new Set(['one', 'other']));
  });

  it('answers a refused command with its own number and keeps the connection', async () => {
    const one = screen('one');
    one.say({ kind: 'command', id: 7, command: { kind: 'pause-sweep' } });
    expect(await one.next('refused')).toMatchObject({ id: 7, code: 'FAKE_ONLY_NOTES' });
    one.say(note(8, 'still here'));
    expect(await one.next('accepted')).toMatchObject({ id: 8, upToN: 2 });
  });

  it.each([
    ['not JSON', 'hello {'],
    ['a message of no known kind', { kind: 'dance' }],
    ['a command with an unknown field', { kind: 'command', id: 3, command: { kind: 'undo', twice: true } }],
    ['an empty list', []],
    ['a number that is none', { kind: 'stop', id: null }],
  ])('says what it did not understand of %s and goes on', async (_what, message) => {
    const one = screen('one');
    await one.next('live');
    one.say(message);
    expect((await one.next('misread')).message).not.toBe('');
    one.say(note(1, 'still here'));
    expect(await one.next('accepted')).toMatchObject({ id: 1 });
  });

  it('delivers a message that was sent before the host had opened the job', async () => {
    const early = openTestScreen(host.place);
    early.say({ kind: 'follow', jobId, afterN: 0 });
    early.say(note(5, 'at once'));
    expect(await early.next('accepted')).toMatchObject({ id: 5 });
  });

  it('ends one connection when a command throws, and serves the others', async () => {
    const one = screen('one');
    const other = screen('other');
    await other.next('events');
    one.say(note(1, 'throw'));
    expect(await one.closed).toBe(1011);
    other.say(note(1, 'fine'));
    expect(await other.next('accepted')).toMatchObject({ id: 1 });
  });

  it('closes a socket that sends too large a message with its own code', async () => {
    const one = screen('one');
    await one.next('events');
    one.say('x'.repeat(64 * 1024 + 1));
    expect(await one.closed).toBe(1009);
  });

  it('closes a screen that follows a job that is not there', async () => {
    const lost = openTestScreen(host.place);
    lost.say({ kind: 'follow', jobId: 'nowhere', afterN: 0 });
    expect(await lost.closed).toBe(4004);
  });

  it('tells the bench that a screen is gone only when its last socket has closed', async () => {
    const first = screen('same');
    await first.next('events');
    const second = screen('same');
    await second.next('events');
    const desk = host.bench.desks.get(jobId);
    first.socket.close();
    await first.closed;
    second.say(note(1, 'after'));
    await second.next('accepted');
    expect(desk?.screens.has('same')).toBe(true);
    second.socket.close();
    await second.closed;
    await expect.poll(() => desk?.screens.has('same')).toBe(false);
  });

  it('lets no page of another origin open a socket', async () => {
    const stranger = openTestScreen(host.place, { headers: { origin: 'http://evil.example' } });
    expect(await stranger.closed).toBe(1006);
  });
});
