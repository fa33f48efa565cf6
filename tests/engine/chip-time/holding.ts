import { contactsFor } from '../../../host/core/ladder';
import type { JobKind } from '../../../protocol';
import { ladderOf } from '../accuracy';
import { Bench } from '../bench';
import type { BenchOptions } from '../bench';

export const BEAT_MS = 500;

export type Asked = 'heartbeat' | 'measure';

/** 8 ohm to 6 kohm, a magnetic job from 5: what the box states that it can hold; the second on real battery pulses. */
const kinds = [
  ['thermal-fuel-steady', 'thermal', [8, 30, 1000, 6000]],
  ['thermal-fuel', 'thermal', [10]],
  ['two-coil-fuel', 'magnetic', [5, 8, 100, 6000]],
] as const;

export const holds = kinds.flatMap(([gauge, jobKind, ohms]) =>
  ohms.flatMap((ohm) =>
    (['heartbeat', 'measure'] as const).map((ask) => [ohm, jobKind, ask, gauge] as const),
  ),
);

/** Greeted, armed and set to the contacts that come nearest. */
export function drivingNearest(ohm: number, options: BenchOptions & { readonly jobKind: JobKind }): Bench {
  const bench = new Bench(options);
  bench.hello();
  const wanted = contactsFor(ladderOf(bench), ohm);
  if (wanted.kind === 'refused') throw new Error(wanted.code);
  const armed = bench.arm(options.jobKind);
  if (armed.refused !== undefined) throw new Error(`arm: ${armed.refused} ${armed.detail}`);
  bench.box.advance(1000);
  const { contactMask, complementMask, madeMilliohm } = wanted;
  const resistanceMilliohm = Math.round(madeMilliohm);
  const fields = { channel: 0, contactMask, complementMask, resistanceMilliohm, leaseMs: 1500 };
  const made = bench.ask('set', fields);
  if (made.refused !== undefined) throw new Error(`set: ${made.refused} ${made.detail}`);
  return bench;
}

/** Asks twice a second until the time is over or the box has opened; answers how long that took. */
export function hold(bench: Bench, ask: Asked, forMs: number): number {
  const fromMs = bench.box.nowMs;
  while (bench.box.nowMs - fromMs < forMs && bench.events.length === 0) {
    bench.box.advance(BEAT_MS);
    bench.ask(ask, { channel: 0 });
  }
  return bench.box.nowMs - fromMs;
}
