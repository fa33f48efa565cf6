import { describe, expect, it } from 'vitest';
import type { LiveFrame } from '../../host/job/wire/job-messages';
import { byHand, opensByItself, reachAfter, type OutOfReach } from '../../host/web/connection/lost-contact';

const frame = (link: LiveFrame['link']['state'], box: LiveFrame['box']['state']): LiveFrame => ({
  jobId: 'j',
  lastN: 1,
  link: { state: link, simulated: false },
  box: { state: box, deadManMs: 1200 },
  output: {},
  waiting: { kind: 'nothing' },
  attending: 'phone 1',
  present: [],
});
const driving = frame('live', 'driving');
const lost: OutOfReach = { lost: 'host', sinceMs: 0, deadManMs: 1200, reader: 'phone 1' };

describe('an output that falls out of reach', () => {
  it('is told when it was live, whether the host or the box is lost', () => {
    const known = { frame: driving, lostContact: undefined };
    expect(reachAfter(known, undefined, 7)).toEqual({ ...lost, sinceMs: 7 });
    expect(reachAfter(known, frame('silent', 'unknown'), 7)).toMatchObject({ lost: 'box', deadManMs: 1200 });
  });

  it('is not told when it was open', () => {
    for (const state of ['safe', 'tripped', 'unknown'] as const)
      expect(
        reachAfter({ frame: frame('live', state), lostContact: undefined }, undefined, 7),
      ).toBeUndefined();
  });

  it('stays told until the box itself is seen again, whatever else arrives', () => {
    const known = { frame: undefined, lostContact: lost };
    for (const next of [undefined, frame('greeting', 'unknown'), frame('live', 'unknown')])
      expect(reachAfter(known, next, 9)).toBe(lost);
    for (const state of ['safe', 'armed', 'driving', 'tripped'] as const)
      expect(reachAfter(known, frame('live', state), 9)).toBeUndefined();
  });

  it("names the box's own seconds, and says when they are over", () => {
    const box: OutOfReach = { ...lost, lost: 'box' };
    expect(opensByItself(box, 'phone 1', 500)).toContain('within 1.2 s');
    expect(opensByItself(box, 'phone 1', 1300)).toContain('are over');
    expect(opensByItself({ ...box, deadManMs: undefined }, 'phone 1', 1e6)).not.toContain('are over');
  });

  it('promises nothing to a screen that only watched', () => {
    expect(opensByItself(lost, 'phone 1', 500)).toContain('it opens the output 6 s after');
    expect(opensByItself(lost, 'laptop 2', 500)).toContain('the sweep goes on for phone 1: stop it there');
  });

  it('names what hands can do where the gauge is', () => {
    expect(byHand('car')).toContain('ignition off');
    expect(byHand('bench')).toContain('supply off');
  });
});
