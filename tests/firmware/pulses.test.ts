import { describe, expect, it } from 'vitest';
import { simulatedGauge } from '../../firmware-ts/board/simulated/gauges/catalogue';
import type { SimulatedGauge } from '../../firmware-ts/board/simulated/gauges/catalogue';
import { thermal } from '../../firmware-ts/board/simulated/gauges/mechanism';
import type { Mechanism } from '../../firmware-ts/board/simulated/gauges/mechanism';
import { Bench } from '../engine/bench';

/** The hungriest published gauge behind a real stabiliser: 5 V in battery pulses, one a second, 12.22 ohm. */
const fuel = simulatedGauge('thermal-fuel')!;
const pulsing = { ...fuel, mechanism: thermal(12.22, { effectiveVolt: 5, periodMs: 1000 }) };
const BATTERY_VOLT = 14.4;

function driven(ohm: number, gauge: SimulatedGauge, speed = 1): Bench {
  const bench = new Bench({ gauge, speed });
  bench.box.world.vehicle.settings.supplyVolt = BATTERY_VOLT;
  bench.hello();
  const table = bench.table();
  expect(bench.arm('thermal').refused).toBeUndefined();
  bench.live(3000);
  const made = bench.set(ohm, table);
  expect(made.refused, `${ohm} ohm: ${made.refused} ${made.detail}`).toBeUndefined();
  return bench;
}

describe('a thermal gauge on the battery pulses of its stabiliser', () => {
  const dial = fuel.marks.map(({ reading }) => fuel.originalSender(reading));

  it.each([...dial, 12, 20, 38])('is held at %d ohm for ten seconds, at any speed of its needle', (ohm) => {
    for (const speed of [1, 100]) {
      const bench = driven(ohm, pulsing, speed);
      bench.live(10_000);
      expect(bench.events, `speed ${speed}`).toEqual([]);
      expect(bench.state()).toBe('driving');
      expect(Math.abs(bench.box.world.pathOhm - ohm)).toBeLessThan(1.2);
    }
  });

  it('is let go within 2.5 s when its stabiliser sticks closed at 14 V and 10 ohm', () => {
    const sticking = thermal(12.22, { effectiveVolt: BATTERY_VOLT, periodMs: 0 });
    let isStuck = false;
    const mechanism: Mechanism = {
      ...pulsing.mechanism,
      source: (feed, atMs) => (isStuck ? sticking : pulsing.mechanism).source(feed, atMs),
    };
    const bench = driven(10, { ...pulsing, mechanism });
    bench.live(3000);
    bench.box.world.vehicle.settings.supplyVolt = 14;
    isStuck = true;
    bench.live(2500);
    expect(bench.isOutputOpen).toBe(true);
    expect(bench.events).toHaveLength(1);
  });
});
