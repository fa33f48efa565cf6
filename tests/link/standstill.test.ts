import { describe, expect, it } from 'vitest';
import { limits } from '../../protocol';
import { guardLink, openLink, type BoxLink } from '../../host/link';
import { FakeBox } from '../support/fake-box';
import { ManualClock } from '../support/manual-clock';

type Bench = { readonly clock: ManualClock; readonly box: FakeBox; readonly link: BoxLink };

async function liveBench(): Promise<Bench> {
  const clock = new ManualClock();
  const box = new FakeBox(clock);
  const link = openLink(box, { clock, today: () => 20_000 });
  await clock.advance(0);
  expect(link.state).toBe('live');
  return { clock, box, link };
}

describe('a computer that stands still', () => {
  it('for a second at a time still renews the lease of the box in time', async () => {
    const { clock, box, link } = await liveBench();
    await clock.advance(500);
    let heardMs = clock.nowMs();
    let longestMs = 0;
    for (let round = 0; round < 5; round += 1) {
      const before = box.requests.length;
      await clock.stand(1_000);
      while (box.requests.length === before) await clock.advance(10);
      longestMs = Math.max(longestMs, clock.nowMs() - heardMs);
      heardMs = clock.nowMs();
    }
    expect(link.state).toBe('live');
    expect(longestMs).toBeLessThan(limits.deadManMs.initial);
  });

  it('does not take answers that it had no time to read for a silent box', async () => {
    const { clock, box, link } = await liveBench();
    // Whatever was answered while nothing was read is as good as lost.
    box.faults.push('drop', 'drop', 'drop', 'drop', 'drop');
    await clock.advance(100);
    for (let round = 0; round < 4; round += 1) await clock.stand(1_000);
    expect(link.state).toBe('live');
    await clock.advance(300);
    expect(box.faults).toEqual([]);
    expect(link.state).toBe('live');
  });

  it('still notices a box that is silent while the computer runs', async () => {
    const { clock, box, link } = await liveBench();
    box.isSilent = true;
    await clock.advance(1_000);
    expect(link.state).toBe('silent');
  });
});

describe('a link made safe for good', () => {
  it('opens before what waits in line, and lets nothing through that closes a contact', async () => {
    const { clock, box, link } = await liveBench();
    const guarded = guardLink(link, clock);
    const waiting = [guarded.request('measure', { channel: 0 }), guarded.request('measure', { channel: 0 })];
    const opened = guarded.openForGood();
    const late = await guarded.request('measure', { channel: 0 });
    expect(late).toMatchObject({ kind: 'link-failed', code: 'LINK_CLOSED' });
    expect(await opened).toBe('box-confirmed-open');
    await Promise.all(waiting);
    expect(box.names.filter((name) => name !== 'measure')).toEqual(['hello', 'open']);
    expect(box.names.indexOf('open')).toBeLessThanOrEqual(2);
    expect(await guarded.openForGood()).toBe('box-confirmed-open');
  });

  it('leaves a box that does not confirm without heartbeats, so that it opens by itself', async () => {
    const { clock, box, link } = await liveBench();
    const guarded = guardLink(link, clock);
    box.isSilent = true;
    const opened = guarded.openForGood();
    await clock.advance(2_000);
    expect(await opened).toBe('box-silent');
    const { length } = box.requests;
    box.isSilent = false;
    await clock.advance(10_000);
    expect(box.requests).toHaveLength(length);
  });

  it('says so when nobody could be told', async () => {
    const { clock, box, link } = await liveBench();
    const guarded = guardLink(link, clock);
    box.unplug();
    expect(await guarded.openForGood()).toBe('no-box');
    await link.close();
  });
});
