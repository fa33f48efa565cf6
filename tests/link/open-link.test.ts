import { describe, expect, it } from 'vitest';
import { openLink, type BoxLink, type LinkEvent } from '../../host/link';
import { PROTOCOL_MAJOR, PROTOCOL_MINOR } from '../../protocol';
import { FakeBox, type LineFault } from '../support/fake-box';
import { ManualClock } from '../support/manual-clock';

const clear = { channel: 0, faultCode: 1 };

type Bench = { clock: ManualClock; box: FakeBox; link: BoxLink; events: LinkEvent[] };

function bench(prepare: (box: FakeBox) => void = () => undefined): Bench {
  const clock = new ManualClock();
  const box = new FakeBox(clock);
  prepare(box);
  const link = openLink(box, { clock, makeNonce: () => 0xfe, today: () => 20_000 });
  const events: LinkEvent[] = [];
  link.subscribe((event) => events.push(event));
  return { clock, box, link, events };
}

async function liveBench(): Promise<Bench> {
  const made = bench();
  await made.clock.advance(0);
  expect(made.link.state).toBe('live');
  return made;
}

const states = (events: readonly LinkEvent[]): string[] =>
  events.flatMap((event) => (event.kind === 'state' ? [event.state] : []));

describe('a link to a box', () => {
  it('is live only after the greeting of this opening was answered', async () => {
    const { clock, box, link, events } = bench((fake) => (fake.isSilent = true));
    await clock.advance(200);
    expect(link.state).toBe('greeting');
    expect(link.greeting).toBeUndefined();
    box.isSilent = false;
    await clock.advance(100);
    expect(link.state).toBe('live');
    expect(link.greeting?.bootNonce).toBe(box.bootNonce);
    expect(states(events)).toEqual(['greeting', 'live']);
  });

  it('writes nothing while it is not live', async () => {
    const { clock, box, link } = bench((fake) => (fake.isSilent = true));
    await clock.advance(100);
    const result = await link.request('clear', clear);
    expect(result).toMatchObject({ kind: 'link-failed', code: 'LINK_NOT_LIVE' });
    await link.close();
    expect(await link.request('clear', clear)).toMatchObject({ kind: 'link-failed', code: 'LINK_CLOSED' });
    await clock.advance(10_000);
    expect(box.names).toEqual(['hello']);
  });

  it('waits three seconds for the greeting of a box that is still starting, then says it is not ours', async () => {
    const { clock, box, link } = bench((fake) => (fake.isSilent = true));
    await clock.advance(2999);
    expect(link.state).toBe('greeting');
    await clock.advance(1);
    expect(link.state).toBe('failed');
    expect(link.problem?.code).toBe('LINK_NOT_OUR_BOX');
    expect(link.problem?.message).toContain('no answer');
    expect(new Set(box.requests.map(({ sequence }) => sequence)).size).toBe(1);
    expect(box.closeCount).toBe(1);
  });

  it('says that a talking device is not our box when what it says is no frame', async () => {
    const { clock, box, link } = bench((fake) => (fake.isSilent = true));
    await clock.advance(10);
    box.rubbish(new TextEncoder().encode('$GPGGA,hello\r\n\0more\0'));
    await clock.advance(3000);
    expect(link.problem?.code).toBe('LINK_NOT_OUR_BOX');
    expect(link.problem?.message).toContain('it sends something else');
  });

  it('refuses a box of another protocol version and says both versions', async () => {
    const { clock, box, link } = bench((fake) => (fake.protocolMajor = 2));
    await clock.advance(0);
    expect(link.state).toBe('failed');
    expect(link.problem?.code).toBe('LINK_VERSION');
    expect(link.problem?.message).toContain(`box 2.0, program ${PROTOCOL_MAJOR}.${PROTOCOL_MINOR}`);
    await clock.advance(10_000);
    expect(box.names).toEqual(['hello']);
  });

  it('passes on why a port cannot be opened', async () => {
    const problem = { code: 'LINK_PORT_BUSY', message: 'in use' } as const;
    const { clock, link } = bench((fake) => (fake.refusal = problem));
    await clock.advance(0);
    expect(link.state).toBe('failed');
    expect(link.problem).toEqual(problem);
  });

  it('frees the port when it is closed while it opens', async () => {
    const { clock, box, link } = bench();
    const closing = link.close();
    await clock.advance(0);
    await closing;
    expect(link.state).toBe('closed');
    expect(box.closeCount).toBe(1);
    expect(box.requests).toEqual([]);
  });

  it('sends heartbeats while live and leaves no timer behind when closed', async () => {
    const { clock, box, link, events } = await liveBench();
    await clock.advance(1000);
    expect(box.requests.filter(({ name }) => name === 'heartbeat')).toHaveLength(10);
    expect(events.filter(({ kind }) => kind === 'heartbeat')).toHaveLength(10);
    await link.close();
    await link.close();
    expect(clock.timerCount).toBe(0);
    expect(box.closeCount).toBe(1);
  });
});

describe('a request', () => {
  const once: readonly LineFault[] = ['drop', 'duplicate', 'corrupt', 'late', 'cut'];
  it.each(once)('is acted on once and answered when an answer is hit by: %s', async (fault) => {
    const { clock, box, link } = await liveBench();
    box.faults.push(fault);
    const asked = link.request('clear', clear);
    await clock.advance(600);
    expect(await asked).toEqual({ kind: 'answer', fields: { state: 0, boxMs: 0 } });
    expect(box.acted.filter((name) => name === 'clear')).toHaveLength(1);
    expect(link.state).toBe('live');
    expect((await withTime(clock, link.request('open', { channel: 0 }))).kind).toBe('answer');
  });

  it('is tried three times with the same sequence number, then the link is silent and frees its port', async () => {
    const { clock, box, link, events } = await liveBench();
    box.isSilent = true;
    const asked = link.request('clear', clear);
    await clock.advance(749);
    expect(link.state).toBe('live');
    await clock.advance(1);
    expect(await asked).toMatchObject({ kind: 'link-failed', code: 'LINK_SILENT' });
    const tries = box.requests.filter(({ name }) => name === 'clear');
    expect(tries.map(({ sequence }) => sequence)).toEqual([
      tries[0]?.sequence,
      tries[0]?.sequence,
      tries[0]?.sequence,
    ]);
    expect(states(events).at(-1)).toBe('silent');
    expect(box.closeCount).toBe(1);
    expect(clock.timerCount).toBe(0);
  });

  it('waits its turn: at most one is on the wire', async () => {
    const { clock, box, link } = await liveBench();
    box.faults.push('drop');
    const first = link.request('clear', clear);
    const second = link.request('clear', { channel: 0, faultCode: 2 });
    await clock.advance(100);
    expect(box.requests.map(({ fields }) => fields)).toHaveLength(2);
    await clock.advance(200);
    expect((await Promise.all([first, second])).map(({ kind }) => kind)).toEqual(['answer', 'answer']);
    const sequences = box.requests.filter(({ name }) => name === 'clear').map(({ sequence }) => sequence);
    expect(sequences).toEqual([0xff, 0xff, 0x00]);
  });

  it('lets the stop command overtake everything, what is on the wire included', async () => {
    const { clock, box, link } = await liveBench();
    box.faults.push('drop');
    const first = link.request('clear', clear);
    const second = link.request('clear', { channel: 0, faultCode: 2 });
    const stop = link.request('open', { channel: 0 });
    await clock.advance(1);
    expect(box.names).toEqual(['hello', 'clear', 'open', 'clear']);
    expect(await first).toMatchObject({ kind: 'link-failed', code: 'LINK_OVERTAKEN' });
    expect((await stop).kind).toBe('answer');
    expect((await second).kind).toBe('answer');
    // What was set aside is not tried again either: it would close what the stop has opened.
    await clock.advance(10_000);
    expect(box.names).toEqual(['hello', 'clear', 'open', 'clear']);
  });

  it('passes on what the box refuses, in words', async () => {
    const { clock, link } = await liveBench();
    const result = await withTime(clock, link.request('element', { index: 200 }));
    expect(result).toMatchObject({ kind: 'refused', code: 'STATE' });
  });

  it('is refused unsent when a field is out of its range', async () => {
    const { box, link } = await liveBench();
    const result = await link.request('clear', { channel: 0, faultCode: 300 });
    expect(result).toMatchObject({ kind: 'link-failed', code: 'LINK_BAD_REQUEST' });
    expect(result.kind === 'link-failed' && result.message).toContain('faultCode');
    expect(box.names).toEqual(['hello']);
    expect(link.state).toBe('live');
  });
});

describe('a box in trouble', () => {
  it('is silent when only heartbeats go unanswered', async () => {
    const { clock, box, link } = await liveBench();
    box.isSilent = true;
    await clock.advance(849);
    expect(link.state).toBe('live');
    await clock.advance(1);
    expect(link.state).toBe('silent');
  });

  it('that restarted while the line held is found out by its refusal, and the link ends', async () => {
    const { clock, box, link } = await liveBench();
    box.restart();
    await clock.advance(100);
    expect(link.state).toBe('failed');
    expect(link.problem?.code).toBe('LINK_RESTARTED');
  });

  it('that trips is heard once and acknowledged each time it says so', async () => {
    const { clock, box, events } = await liveBench();
    const trip = { channel: 0, faultCode: 2, measured: 400, limit: 300, boxMs: 55 };
    box.trip(9, trip);
    await clock.advance(1);
    box.trip(9, trip);
    await clock.advance(1);
    expect(events.filter(({ kind }) => kind === 'tripped')).toEqual([{ kind: 'tripped', fields: trip }]);
    expect(box.names).toEqual(['hello', 'acknowledge', 'acknowledge']);
    box.trip(10, { ...trip, boxMs: 99 });
    await clock.advance(1);
    expect(events.filter(({ kind }) => kind === 'tripped')).toHaveLength(2);
  });

  it('that is unplugged fails the request under way at once', async () => {
    const { clock, box, link } = await liveBench();
    box.faults.push('drop');
    const asked = link.request('clear', clear);
    await clock.advance(10);
    box.unplug();
    expect(await asked).toMatchObject({ kind: 'link-failed', code: 'LINK_UNPLUGGED' });
    expect(link.state).toBe('failed');
  });

  it('that sends rubbish between frames is still understood, and the damage is told', async () => {
    const { clock, box, link, events } = await liveBench();
    box.rubbish(new Uint8Array([1, 2, 3, 0, 255, 255, 0]));
    const result = await withTime(clock, link.request('open', { channel: 0 }));
    expect(result.kind).toBe('answer');
    expect(events.filter(({ kind }) => kind === 'frame-damaged')).toHaveLength(2);
  });

  it('that answers a greeting of an earlier opening is greeted again', async () => {
    const clock = new ManualClock();
    const box = new FakeBox(clock);
    const nonces = [0x100, 0x200];
    const makeNonce = (): number => nonces.shift() ?? 0;
    const first = openLink(box, { clock, makeNonce, today: () => 20_000 });
    await clock.advance(0);
    await first.close();
    // The second opening starts at the same sequence number, so the box repeats its answer to the first greeting.
    const second = openLink(box, { clock, makeNonce, today: () => 20_000 });
    await clock.advance(0);
    expect(second.state).toBe('live');
    expect(second.greeting?.hostNonce).toBe(0x200);
    expect(box.names).toEqual(['hello', 'hello', 'hello']);
    await second.close();
  });
});

describe('frame events', () => {
  it('show each frame in both directions with its name, sequence and fields', async () => {
    const { events } = await liveBench();
    const frames = events.filter((event) => event.kind === 'frame');
    expect(frames.map(({ direction, name, sequence }) => [direction, name, sequence])).toEqual([
      ['out', 'hello', 0xfe],
      ['in', 'hello', 0xfe],
    ]);
    expect(frames[1]?.fields['boxSerial']).toBe(7);
  });
});

async function withTime<T>(clock: ManualClock, promise: Promise<T>): Promise<T> {
  await clock.advance(5);
  return promise;
}
