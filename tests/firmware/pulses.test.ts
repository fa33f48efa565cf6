import { describe, expect, it } from 'vitest';
import { simulatedGauge, simulatedGauges } from '../../firmware-ts/board/simulated/gauges/catalogue';
import type { SimulatedGauge } from '../../firmware-ts/board/simulated/gauges/catalogue';
import { thermal } from '../../firmware-ts/board/simulated/gauges/mechanism';
import type { Mechanism } from '../../firmware-ts/board/simulated/gauges/mechanism';
import { leastMadeOhm } from '../../hardware-notes/calculations/pulses';
import { boxKindOf } from '../../host/bench/rules';
import type { Fields, JobKind } from '../../protocol';
import { Bench } from '../engine/bench';

/** The hungriest published gauge behind a real stabiliser: 5 V in battery pulses, one a second, 12.22 ohm. */
const fuel = simulatedGauge('thermal-fuel')!;
const BATTERY_VOLT = 14.4;

type Circuit = {
  readonly gauge?: SimulatedGauge;
  readonly speed?: number;
  readonly batteryVolt?: number;
  readonly jobKind?: JobKind;
  readonly arming?: Partial<Fields<'arm'>>;
};

function armed({ gauge = fuel, speed = 1, batteryVolt = BATTERY_VOLT, jobKind, arming }: Circuit): Bench {
  const bench = new Bench({ gauge, speed });
  bench.box.world.vehicle.settings.supplyVolt = batteryVolt;
  bench.hello();
  expect(bench.arm(jobKind ?? 'thermal', arming).refused).toBeUndefined();
  bench.live(3000);
  return bench;
}

function driven(ohm: number, circuit: Circuit = {}): Bench {
  const bench = armed(circuit);
  const made = bench.set(ohm, bench.table());
  expect(made.refused, `${ohm} ohm: ${made.refused} ${made.detail}`).toBeUndefined();
  return bench;
}

const dialOf = ({ marks, originalSender }: SimulatedGauge): number[] =>
  marks.map(({ reading }) => originalSender(reading));

describe('a thermal gauge on the battery pulses of its stabiliser', () => {
  it.each([...dialOf(fuel), 12, 20, 38])(
    'is held at %d ohm for ten seconds, at any speed of its needle',
    (ohm) => {
      for (const speed of [1, 100]) {
        const bench = driven(ohm, { speed });
        bench.live(10_000);
        expect(bench.events, `speed ${speed}`).toEqual([]);
        expect(bench.state()).toBe('driving');
        expect(Math.abs(bench.box.world.pathOhm - ohm)).toBeLessThan(1.2);
      }
    },
  );

  it('is gone on with right after it was opened, wherever in its beat that falls', () => {
    for (let waitMs = 0; waitMs < 1000; waitMs += 90) {
      const bench = driven(38);
      bench.live(2000 + waitMs);
      bench.ask('open', { channel: 0 });
      expect(bench.arm('thermal').refused).toBeUndefined();
      const table = bench.table();
      for (const ohm of [73, 10]) {
        const made = bench.set(ohm, table);
        expect(made.refused, `${waitMs} ms, ${ohm} ohm: ${made.detail}`).toBeUndefined();
        bench.live(2000);
      }
      expect(bench.events).toEqual([]);
      expect(bench.isOutputOpen).toBe(false);
    }
  });

  it('stays as it is when it is asked for what is there, wherever in the beat that falls', () => {
    const bench = driven(10);
    const table = bench.table();
    bench.live(3000);
    for (let count = 0; count < 12; count += 1) {
      bench.live(530);
      bench.box.receive(bench.frame('set', bench.setting(10, table)));
      for (let waitedMs = 0; waitedMs < 300; waitedMs += 10) {
        bench.box.advance(10);
        expect(bench.box.world.pathOhm).toBeLessThan(11);
      }
    }
    expect(bench.events).toEqual([]);
  });

  it('goes as low as hardware-notes say and no lower, at every battery', () => {
    for (const batteryVolt of [12.6, BATTERY_VOLT, 15.4, 15.9]) {
      const leastOhm = leastMadeOhm({ heaterOhm: 12.22, effectiveVolt: 5, batteryVolt, periodMs: 1000 });
      // Half of the chain's widest step, contacts, and what the meter is off.
      const nearOhm = 0.9;
      driven(Math.max(7.5, leastOhm) + nearOhm, { batteryVolt }).live(3000);
      const refused = armed({ batteryVolt });
      expect(refused.set(leastOhm - nearOhm, refused.table()).refused, `${batteryVolt} V`).toBe(
        'PREDICTED_CURRENT',
      );
    }
  });

  it('holds 8 ohm while the battery is at rest or charges soundly, and refuses it on one that is overcharged', () => {
    for (const batteryVolt of [12.6, BATTERY_VOLT]) {
      const bench = driven(8, { batteryVolt });
      bench.live(10_000);
      expect(bench.events).toEqual([]);
    }
    const bench = armed({ batteryVolt: 15.95 });
    const refused = bench.set(8, bench.table());
    expect(refused.refused).toBe('PREDICTED_CURRENT');
    expect(refused.detail).toBeGreaterThan(800);
    bench.live(1000);
    expect(bench.isOutputOpen).toBe(true);
  });

  it('is let go within 2.5 s when its stabiliser sticks closed at 14 V and 10 ohm', () => {
    const sticking = thermal(12.22, { effectiveVolt: BATTERY_VOLT, periodMs: 0 });
    let isStuck = false;
    const mechanism: Mechanism = {
      ...fuel.mechanism,
      source: (feed, atMs) => (isStuck ? sticking : fuel.mechanism).source(feed, atMs),
    };
    const bench = driven(10, { gauge: { ...fuel, mechanism } });
    bench.live(3000);
    bench.box.world.vehicle.settings.supplyVolt = 14;
    isStuck = true;
    bench.live(2500);
    expect(bench.isOutputOpen).toBe(true);
    expect(bench.events).toHaveLength(1);
  });
});

describe('every vehicle of the simulated catalogue', () => {
  it.each(simulatedGauges.map((gauge) => [gauge.name, gauge] as const))(
    '%s: every mark of its dial is reached and held, in the kind of job the host takes it for',
    (_name, gauge) => {
      const { quantity, mechanism, marks, unit } = gauge;
      const jobKind = boxKindOf({ quantity, mechanism: mechanism.kind, unit, marks: [...marks] });
      const originalLeastMilliohm = Math.round(1000 * Math.min(...dialOf(gauge)));
      const arming = jobKind === 'fuel' ? { originalLeastMilliohm } : {};
      // An engine at rest, and one that charges.
      for (const batteryVolt of [12.6, BATTERY_VOLT]) {
        const bench = armed({ gauge, batteryVolt, jobKind, arming });
        const table = bench.table();
        for (const ohm of dialOf(gauge)) {
          const made = bench.set(ohm, table);
          expect(made.refused, `${batteryVolt} V, ${ohm} ohm: ${made.detail}`).toBeUndefined();
          bench.live(3000);
          expect(bench.events, `${batteryVolt} V, ${ohm} ohm`).toEqual([]);
          expect(bench.isOutputOpen).toBe(false);
          expect(Math.abs(bench.box.world.pathOhm - ohm)).toBeLessThan(1 + 0.001 * ohm);
        }
      }
    },
  );

  it('has its thermal gauges on stabilisers that pulse, but for the one that was replaced by a steady one', () => {
    const thermals = simulatedGauges.filter(({ mechanism }) => mechanism.kind === 'thermal');
    const steady = thermals.filter(({ mechanism }) => {
      const seen = Array.from({ length: 100 }, (_, at) =>
        mechanism.source({ supplyVolt: 13.5, groundVolt: 0 }, at * 10),
      ).map(({ openVolt }) => openVolt);
      return new Set(seen).size === 1;
    });
    expect(thermals.length).toBeGreaterThan(1);
    expect(steady.map(({ name }) => name)).toEqual(['thermal-fuel-steady']);
  });
});

describe('a fuel job on the battery pulses of a stabiliser', () => {
  /** The vehicle's own sender, full: 14.4 V through 12.22 and 10 ohm are 648 mA. */
  const own = { jobKind: 'fuel', arming: { originalLeastMilliohm: 10_000 } } as const;

  it('stays at a quarter of an ampere on every sample while nobody has said how low the own sender goes', () => {
    const bench = driven(60, { jobKind: 'fuel' });
    expect(bench.set(20, bench.table()).refused).toBe('PREDICTED_CURRENT');
    bench.live(2000);
    expect(bench.events).toEqual([]);
  });

  it('goes as low as the own sender and no lower', () => {
    const bench = driven(10, own);
    bench.live(5000);
    expect(bench.events).toEqual([]);
    const refused = bench.set(8, bench.table());
    expect(refused.refused).toBe('PREDICTED_CURRENT');
    // 14.4 V through 0.95 of 12.37 ohm and the path, 7.7 ohm as the chain makes it.
    expect(Math.abs((refused.detail ?? NaN) - 740)).toBeLessThan(15);
    bench.live(1000);
    expect(bench.events).toEqual([]);
  });

  it('opens on a sample above the peak of the original circuit', () => {
    const bench = driven(10, own);
    bench.live(2000);
    // Another tenth and more of battery: 16 V would carry 720 mA, the original at 14.4 V carries 648.
    bench.box.world.vehicle.settings.supplyVolt = 17;
    bench.live(1200);
    expect(bench.events[0]?.measured).toBeGreaterThan(648);
    expect(bench.events[0]?.limit).toBeLessThanOrEqual(1.11 * 648);
    expect(bench.isOutputOpen).toBe(true);
  });

  it('takes no sender that is a short', () => {
    const bench = new Bench({ gauge: fuel });
    bench.hello();
    const short = bench.arm('fuel', { originalLeastMilliohm: 7_499 });
    expect(short).toMatchObject({ refused: 'LIMIT_LOOSER', detail: 7_500 });
    expect(bench.state()).toBe('safe');
  });
});
