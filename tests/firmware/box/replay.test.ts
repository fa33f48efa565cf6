import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Bench } from '../../engine/bench';

const LEASE_MS = 1500;
/** Relay, turn, and the step of the walk below. */
const LATE_MS = 60;

/** A box that drives and has heard so many frames, each kept as it was on the line. */
function recorded(beats: number): { readonly bench: Bench; readonly frames: readonly Uint8Array[] } {
  const bench = new Bench({ gauge: 'two-coil-fuel' });
  const frames: Uint8Array[] = [];
  const ask = (frame: Uint8Array): void => {
    frames.push(frame);
    expect(bench.deliver(frame).refused).toBeUndefined();
  };
  const hello = { protocolMajorMin: 1, protocolMajorMax: 1, hostNonce: 1, hostDay: 20_700 };
  ask(bench.frame('hello', hello));
  const own = bench.ask('jobLimits', { channel: 0, jobKind: 1 });
  const limits = {
    currentLimitMilliamp: own.currentLimitMilliamp ?? 0,
    elementPowerLimitMilliwatt: own.elementPowerLimitMilliwatt ?? 0,
    totalPowerLimitMilliwatt: own.totalPowerLimitMilliwatt ?? 0,
    supplyLimitMillivolt: own.supplyLimitMillivolt ?? 0,
    floorMilliohm: own.floorMilliohm ?? 0,
    floorTimeMs: own.floorTimeMs ?? 0,
  };
  const table = bench.table();
  ask(bench.frame('arm', { channel: 0, jobKind: 1, ...limits, leaseMs: LEASE_MS, originalLeastMilliohm: 0 }));
  bench.box.advance(200);
  ask(bench.frame('set', bench.setting(60, table)));
  for (let beat = 0; beat < beats; beat += 1) {
    bench.box.advance(300);
    ask(bench.frame('heartbeat', { channel: 0 }));
  }
  return { bench, frames };
}

/** Lives on without a new frame, with old ones at moments of their own; answers when the output was open, ms. */
function openAfterMs(
  bench: Bench,
  replayed: readonly (readonly [atMs: number, frame: Uint8Array])[],
): number {
  const fromMs = bench.box.nowMs;
  const waiting = [...replayed].sort(([one], [other]) => one - other);
  while (bench.box.nowMs - fromMs < 3 * LEASE_MS) {
    while (waiting[0] !== undefined && waiting[0][0] <= bench.box.nowMs - fromMs)
      bench.box.receive(waiting.shift()![1]);
    bench.box.advance(10);
    if (bench.isOutputOpen) return bench.box.nowMs - fromMs;
  }
  return Infinity;
}

describe('frames that were on the line before', () => {
  it('extend no lease and close nothing, whichever come again, in whatever order and when', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.nat(2 * LEASE_MS), fc.nat(1000)), { maxLength: 8 }),
        fc.boolean(),
        (moments, withHello) => {
          const { bench, frames } = recorded(3);
          const again = moments.map(([atMs, which]) => [atMs, frames[which % frames.length]!] as const);
          const first = withHello ? ([[100, frames[0]!]] as const) : [];
          const openMs = openAfterMs(bench, [...first, ...again]);
          expect(openMs).toBeLessThanOrEqual(LEASE_MS + LATE_MS);
          bench.box.advance(2 * LEASE_MS);
          expect(bench.isOutputOpen).toBe(true);
        },
      ),
      { seed: 6, numRuns: 10 },
    );
  });

  it('open at once when the greeting comes again as it was, and what followed it is done no second time', () => {
    const { bench, frames } = recorded(2);
    const [hello, ...others] = frames;
    bench.box.receive(hello!);
    bench.box.advance(60);
    expect(bench.isOutputOpen).toBe(true);
    for (const frame of others) {
      bench.box.receive(frame);
      bench.box.advance(700);
      expect(bench.isOutputOpen).toBe(true);
    }
  });
});
