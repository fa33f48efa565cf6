import { describe, expect, it } from 'vitest';
import { keepLink, type BoxLink, type ByteSource, type LinkEvent, type LinkProblem } from '../../host/link';
import { FakeBox } from '../support/fake-box';
import { ManualClock } from '../support/manual-clock';

type Bench = { clock: ManualClock; box: FakeBox; link: BoxLink; events: LinkEvent[] };

function bench(find?: (box: FakeBox) => ByteSource | LinkProblem): Bench {
  const clock = new ManualClock();
  const box = new FakeBox(clock);
  const link = keepLink(() => Promise.resolve(find?.(box) ?? box), { clock, today: () => 20_000 });
  const events: LinkEvent[] = [];
  link.subscribe((event) => events.push(event));
  return { clock, box, link, events };
}

const waits = (events: readonly LinkEvent[]): number[] =>
  events.flatMap((event) => (event.kind === 'waiting' ? [event.retryInMs] : []));

describe('a kept link', () => {
  it('opens a new connection after an unplug and greets it afresh', async () => {
    const { clock, box, link, events } = bench();
    await clock.advance(0);
    box.unplug();
    expect(link.state).toBe('failed');
    await clock.advance(249);
    expect(box.connectionCount).toBe(1);
    await clock.advance(1);
    expect(box.connectionCount).toBe(2);
    expect(link.state).toBe('live');
    expect(box.names).toEqual(['hello', 'hello']);
    expect(events.some(({ kind }) => kind === 'restarted')).toBe(false);
    await link.close();
  });

  it('sends nothing again that was asked before the unplug', async () => {
    const { clock, box, link } = bench();
    await clock.advance(0);
    box.faults.push('drop');
    const asked = link.request('clear', { channel: 0, faultCode: 1 });
    const queued = link.request('clear', { channel: 0, faultCode: 2 });
    await clock.advance(1);
    box.unplug();
    const whileDown = link.request('clear', { channel: 0, faultCode: 3 });
    await clock.advance(1000);
    expect(link.state).toBe('live');
    expect(box.names).toEqual(['hello', 'clear', 'hello']);
    for (const result of await Promise.all([asked, queued, whileDown]))
      expect(result.kind).toBe('link-failed');
    await link.close();
  });

  it('waits longer after each failure, at most four seconds, and starts over once it was live', async () => {
    let isThere = false;
    const gone: LinkProblem = { code: 'LINK_NO_SUCH_PORT', message: 'gone' };
    const { clock, box, link, events } = bench((fake) => (isThere ? fake : gone));
    await clock.advance(20_000);
    expect(waits(events).slice(0, 7)).toEqual([250, 500, 1000, 2000, 4000, 4000, 4000]);
    expect(link.problem).toEqual(gone);
    isThere = true;
    await clock.advance(4000);
    expect(link.state).toBe('live');
    box.unplug();
    expect(waits(events).at(-1)).toBe(250);
    await link.close();
    expect(clock.timerCount).toBe(0);
  });

  it('tells a changed boot nonce as a restart, before it is told as live', async () => {
    const { clock, box, link, events } = bench();
    await clock.advance(0);
    box.restart();
    await clock.advance(100);
    expect(link.state).toBe('failed');
    await clock.advance(250);
    expect(link.state).toBe('live');
    const order = events.flatMap((event) =>
      event.kind === 'restarted' ? ['restarted'] : event.kind === 'state' ? [event.state] : [],
    );
    expect(order.slice(-3)).toEqual(['greeting', 'restarted', 'live']);
    await link.close();
  });

  it('tells when another box has taken the place of the one before', async () => {
    const { clock, box, link, events } = bench();
    await clock.advance(0);
    box.unplug();
    box.serial = 8;
    box.restart();
    await clock.advance(300);
    expect(events.find((event) => event.kind === 'restarted')).toMatchObject({ isOtherBox: true });
    await link.close();
  });

  it('stays closed once closed, even in the middle of a wait', async () => {
    const { clock, box, link, events } = bench();
    await clock.advance(0);
    box.unplug();
    await link.close();
    await clock.advance(60_000);
    expect(box.connectionCount).toBe(1);
    expect(link.state).toBe('closed');
    expect(events.at(-1)).toMatchObject({ kind: 'state', state: 'closed' });
    expect(await link.request('open', { channel: 0 })).toMatchObject({ kind: 'link-failed' });
  });
});
