import { describe, expect, it } from 'vitest';
import { simulatedGauge, simulatedGauges } from '../../../firmware-ts/board/simulated/gauges/catalogue';
import { Random } from '../../../firmware-ts/board/simulated/random';
import { Vehicle } from '../../../firmware-ts/board/simulated/vehicle';
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
  const beatOf = (speed: number) => {
    const vehicle = new Vehicle(simulatedGauge('thermal-temperature')!, new Random(1), speed);
    const seen: number[] = [];
    for (let ms = 0; ms * speed < 200_000; ms += 5) {
      vehicle.step(60, ms + 5, 5);
      if (ms * speed > 100_000) seen.push(vehicle.needle.angleFraction);
    }
    return { middle: seen.reduce((sum, at) => sum + at, 0) / seen.length, seen };
  };

  it('goes the same way at every speed under a pulsed stabiliser, and beats by less than a hundredth', () => {
    const { middle, seen } = beatOf(1);
    expect(Math.max(...seen) - Math.min(...seen)).toBeLessThan(0.01);
    for (const speed of [2, 3, 4, 5, 20, 60]) expect(beatOf(speed).middle).toBeCloseTo(middle, 3);
  });

  it('heats on average like the steady voltage that the stabiliser stands for', () => {
    const { mechanism, marks, originalSender } = simulatedGauge('thermal-temperature')!;
    const [first, last] = [marks[0]!, marks.at(-1)!].map(({ reading }) =>
      mechanism.steadyDrive(originalSender(reading)),
    );
    const wanted = (mechanism.steadyDrive(60.15) - first!) / (last! - first!);
    expect(Math.abs(beatOf(3).middle - wanted)).toBeLessThan(0.003);
  });

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
