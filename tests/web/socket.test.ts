import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { connectToJob } from '../../host/web/connection/job-connection';
import { sampleGauge } from '../e2e/sample-job';

/** A socket in memory: what the page said is kept, what the host says is called. */
class FakeSocket extends EventTarget {
  static readonly OPEN = 1;
  static made: FakeSocket[] = [];
  readyState = 0;
  readonly said: string[] = [];
  constructor() {
    super();
    FakeSocket.made.push(this);
  }
  send(text: string): void {
    this.said.push(text);
  }
  close(): void {
    this.readyState = 3;
  }
  accept(): void {
    this.readyState = FakeSocket.OPEN;
    this.dispatchEvent(new Event('open'));
  }
  hear(message: object): void {
    this.dispatchEvent(new MessageEvent('message', { data: JSON.stringify(message) }));
  }
  get kindsSaid(): string[] {
    return this.said.map((text) => /"kind":"([a-z]+)"/.exec(text)?.[1] ?? '?');
  }
}

const opening = {
  title: 'Fuel gauge',
  gauge: sampleGauge,
  vehicle: 'Tern 1100 van (1971)',
  place: 'bench',
  simulated: false,
};
const SELF = { screen: 'phone 1', key: 'k', build: 'b1' };

const newest = (): FakeSocket => {
  const socket = FakeSocket.made.at(-1);
  if (socket === undefined) throw new Error('no socket was made');
  return socket;
};

describe('the line from page to host', () => {
  beforeEach(() => {
    FakeSocket.made = [];
    vi.useFakeTimers();
    vi.stubGlobal('WebSocket', FakeSocket);
    vi.stubGlobal('location', { origin: 'http://127.0.0.1:8377' });
    vi.stubGlobal('fetch', () => Promise.reject(new TypeError('no network in this test')));
    vi.stubGlobal('document', { visibilityState: 'visible' });
  });
  afterEach(() => {
    vi.useRealTimers();
    vi.unstubAllGlobals();
  });

  it('is made anew when a stop stays unanswered, and the stop is sent again', () => {
    const desk = connectToJob('job-1', SELF);
    newest().accept();
    // The host greeted, and then the phone went out of range: the socket itself hears of nothing.
    newest().hear({ kind: 'box' });
    desk.stop();
    expect(newest().kindsSaid).toEqual(['hello', 'follow', 'stop']);
    vi.advanceTimersByTime(5_000);
    expect(FakeSocket.made.length).toBe(2);
    expect(desk.stopNews.get()?.kind).toBe('unsent');
    newest().accept();
    expect(newest().kindsSaid).toEqual(['hello', 'follow', 'stop']);
    newest().hear({ kind: 'stopped', id: 2, outcome: 'box-confirmed-open' });
    expect(desk.stopNews.get()).toEqual({ kind: 'answered', outcome: 'box-confirmed-open' });
    vi.advanceTimersByTime(60_000);
    expect(FakeSocket.made.length).toBe(2);
    expect(newest().kindsSaid.filter((kind) => kind === 'stop')).toHaveLength(1);
    desk.close();
  });

  it('shows no output as live beyond the time the box waits for the host, and keeps the line a while longer', () => {
    const desk = connectToJob('job-1', SELF);
    newest().accept();
    const driving = {
      kind: 'live',
      frame: {
        jobId: 'job-1',
        lastN: 1,
        link: { state: 'live', simulated: false },
        box: { state: 'driving', deadManMs: 1_500 },
        output: { madeOhm: 100 },
        waiting: { kind: 'nothing' },
        present: [],
      },
    };
    newest().hear(driving);
    vi.advanceTimersByTime(1_400);
    expect(desk.live.get()?.box.state).toBe('driving');
    expect(desk.lostContact.get()).toBeUndefined();
    vi.advanceTimersByTime(600);
    expect(desk.live.get()).toBeUndefined();
    expect(desk.lostContact.get()).toMatchObject({ lost: 'host', deadManMs: 1_500 });
    expect(FakeSocket.made.length).toBe(1);
    newest().hear(driving);
    expect(desk.live.get()?.box.state).toBe('driving');
    expect(desk.lostContact.get()).toBeUndefined();
    vi.advanceTimersByTime(10_000);
    expect(FakeSocket.made.length).toBeGreaterThan(1);
    expect(desk.lostContact.get()).toMatchObject({ lost: 'host' });
    desk.close();
  });

  const note = { kind: 'add-note', text: 'x' } as const;

  it('settles a command that was misread with what was not understood, and one that nobody answers in a minute', async () => {
    const desk = connectToJob('job-1', SELF);
    newest().accept();
    const misread = desk.send(note);
    newest().hear({ kind: 'misread', id: 1, message: 'text: too long' });
    expect(await misread).toEqual({ kind: 'refused', code: 'MISREAD', message: 'text: too long' });
    expect(desk.refusal.get()).toMatchObject({ code: 'MISREAD' });
    const slow = desk.send(note);
    const beating = setInterval(() => newest().hear({ kind: 'box' }), 1_000);
    vi.advanceTimersByTime(60_000);
    clearInterval(beating);
    expect(await slow).toMatchObject({ code: 'HOST_SLOW' });
    newest().hear({ kind: 'accepted', id: 2, upToN: 9 });
    const cut = desk.send(note);
    desk.close();
    expect(await cut).toMatchObject({ code: 'HOST_LOST' });
  });

  it('takes its name and its right from the host, and knows a host of another build', () => {
    const desk = connectToJob('job-1', SELF);
    newest().accept();
    expect(newest().said[0]).toBe(JSON.stringify({ kind: 'hello', ...SELF }));
    newest().hear({ kind: 'welcome', build: 'b1', by: 'phone 1 (2)', right: 'watch' });
    expect([desk.screen, desk.right.get(), desk.isOld.get()]).toEqual(['phone 1 (2)', 'watch', false]);
    newest().hear({ kind: 'welcome', build: 'b2', by: 'phone 1 (2)', right: 'operate' });
    expect([desk.right.get(), desk.isOld.get()]).toEqual(['operate', true]);
    desk.close();
  });

  it('passes over what a newer host says, and folds the rest', () => {
    const desk = connectToJob('job-1', SELF);
    newest().accept();
    newest().hear({ kind: 'weather' });
    expect(desk.isOld.get()).toBe(true);
    const stamp = { at: '2026-03-01T09:30:00.000Z', by: 'x' };
    const unknown = { n: 2, ...stamp, kind: 'sketch', lines: 3 };
    const [first, last] = [
      { n: 1, ...stamp, kind: 'job-opened', schema: 1, jobId: 'job-1', ...opening },
      { n: 3, ...stamp, kind: 'note', text: 'after it' },
    ];
    newest().hear({ kind: 'events', jobId: 'job-1', events: [first, unknown, last] });
    expect(desk.events.get().map((event) => event.n)).toEqual([1, 2, 3]);
    expect(desk.state.get()?.notes.map((each) => each.text)).toEqual(['after it']);
    newest().hear({ kind: 'live', frame: null });
    expect(desk.state.get()?.lastN).toBe(3);
    desk.close();
  });

  it('sends a stop by its own way too, and believes whichever confirms first', async () => {
    const asked: string[] = [];
    vi.stubGlobal('fetch', (path: string, init?: RequestInit) => {
      asked.push(`${path} ${typeof init?.body === 'string' ? init.body : ''}`);
      const body = path === '/api/stop' ? { outcome: 'box-confirmed-open' } : { stopToken: 't1' };
      return Promise.resolve(new Response(JSON.stringify(body)));
    });
    const desk = connectToJob('job-1', SELF);
    // The socket was never opened: nothing can be sent by it.
    desk.stop();
    await vi.waitFor(() => expect(desk.stopNews.get()?.kind).toBe('answered'));
    expect(asked).toEqual(['/api/greeting ', '/api/stop {"token":"t1"}']);
    desk.close();
  });
});
