import { describe, expect, it } from 'vitest';
import { simulatedGauges } from '../../../firmware-ts/board/simulated/gauges/catalogue';
import { Bench } from '../../engine/bench';

const jobKindOf = (kind: string) =>
  kind === 'thermal' ? 'thermal' : kind === 'electronic' ? 'electronic' : 'magnetic';

describe.each(simulatedGauges.map((gauge) => [gauge.name, gauge] as const))(
  '%s on the box',
  (name, gauge) => {
    it('comes to rest where its law says for the resistance that the box makes', () => {
      const bench = Bench.driving(gauge.originalSender(gauge.marks[0]!.reading), {
        gauge: name,
        jobKind: jobKindOf(gauge.mechanism.kind),
        speed: 50,
      });
      const table = bench.table();
      const span = gauge.marks[gauge.marks.length - 1]!.reading - gauge.marks[0]!.reading;
      for (const { reading } of gauge.marks.slice(1, -1)) {
        const made = bench.set(gauge.originalSender(reading), table);
        expect(made.refused).toBeUndefined();
        bench.live(3000);
        const trueOhm = bench.box.world.pathOhm + 0.15;
        const drive = gauge.mechanism.steadyDrive(trueOhm);
        const first = gauge.mechanism.steadyDrive(gauge.originalSender(gauge.marks[0]!.reading));
        const last = gauge.mechanism.steadyDrive(
          gauge.originalSender(gauge.marks[gauge.marks.length - 1]!.reading),
        );
        const fraction = bench.box.world.vehicle.needle.angleFraction;
        expect(Math.abs(fraction - (drive - first) / (last - first))).toBeLessThan(0.02);
        expect(Math.abs(bench.box.world.vehicle.needle.reading - reading)).toBeLessThan(0.08 * span);
      }
    });

    it('takes its time', () => {
      const low = gauge.originalSender(gauge.marks[1]!.reading);
      const high = gauge.originalSender(gauge.marks[gauge.marks.length - 1]!.reading);
      const bench = Bench.driving(low, { gauge: name, jobKind: jobKindOf(gauge.mechanism.kind) });
      bench.live(30_000);
      const before = bench.box.world.vehicle.needle.angleFraction;
      bench.set(high, bench.table());
      const soon = bench.box.world.vehicle.needle.angleFraction;
      bench.live(30_000);
      const after = bench.box.world.vehicle.needle.angleFraction;
      expect(Math.abs(soon - before)).toBeLessThan(Math.abs(after - before));
      expect(after).toBeGreaterThan(before);
    });
  },
);

describe('the needle', () => {
  it('sticks: it stops short of the same resistance when it comes from the other side', () => {
    const bench = Bench.driving(20, { gauge: 'two-coil-fuel', jobKind: 'magnetic' });
    const table = bench.table();
    const rest = (from: number): number => {
      bench.set(from, table);
      bench.live(4000);
      bench.set(50, table);
      bench.live(4000);
      return bench.box.world.vehicle.needle.angleFraction;
    };
    expect(rest(90) - rest(20)).toBeGreaterThan(0.01);
  });

  it('is lifted when the lights lift the ground of a two-coil gauge', () => {
    const bench = Bench.driving(75, { gauge: 'two-coil-fuel', jobKind: 'magnetic' });
    bench.live(3000);
    const before = bench.box.world.vehicle.needle.angleFraction;
    bench.box.world.vehicle.settings.areLightsOn = true;
    bench.live(3000);
    expect(Math.abs(bench.box.world.vehicle.needle.angleFraction - before)).toBeGreaterThan(0.02);
  });
});
