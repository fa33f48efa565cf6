import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { openDesk } from '../../host/web/model/desk';

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
    vi.stubGlobal('document', { visibilityState: 'visible' });
  });
  afterEach(() => {
    vi.useRealTimers();
    vi.unstubAllGlobals();
  });

  it('is made anew when a stop stays unanswered, and the stop is sent again', () => {
    const desk = openDesk('job-1', SELF);
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
    const desk = openDesk('job-1', SELF);
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
    expect(desk.reach.get()).toBeUndefined();
    vi.advanceTimersByTime(600);
    expect(desk.live.get()).toBeUndefined();
    expect(desk.reach.get()).toMatchObject({ lost: 'host', deadManMs: 1_500 });
    expect(FakeSocket.made.length).toBe(1);
    newest().hear(driving);
    expect(desk.live.get()?.box.state).toBe('driving');
    expect(desk.reach.get()).toBeUndefined();
    vi.advanceTimersByTime(10_000);
    expect(FakeSocket.made.length).toBeGreaterThan(1);
    expect(desk.reach.get()).toMatchObject({ lost: 'host' });
    desk.close();
  });
});
