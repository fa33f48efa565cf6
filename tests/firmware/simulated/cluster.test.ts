import { describe, expect, it } from 'vitest';
import { inSoak } from '../../support/deep';
import { SharedCircuit } from '../../../firmware-ts/board/simulated/cluster/shared-circuit';
import { ClusterBoxes } from '../../../firmware-ts/board/simulated/cluster/boxes';
import { simulatedCluster } from '../../../firmware-ts/board/simulated/cluster/clusters';
import vectors from '../../vectors/cluster-circuit-ngspice.json';

const LEAD_OHM = 0.15;
const TEN_DIGITS = 1e-8;

const clusterNamed = (name: string) => {
  const cluster = simulatedCluster(name);
  if (cluster === undefined) throw new Error(name);
  return cluster;
};

describe('the circuit that gauges of a cluster share', () => {
  it.each(vectors.cases.map((each, index) => [index + 1, each] as const))(
    'gives every gauge the current that ngspice gives it, and lifts the ground as much: case %i',
    (_, { feed_V, feed_ohm, ground_ohm, heater_ohm, path_ohm, current_A, ground_V }) => {
      const circuit = new SharedCircuit();
      Object.assign(circuit.common, { feedOhm: feed_ohm, groundOhm: ground_ohm });
      const places = heater_ohm.map(() => circuit.join());
      const own = heater_ohm.map((sourceOhm) => ({ openVolt: feed_V, sourceOhm }));
      places.forEach((place, at) => place.draws((path_ohm[at] ?? Infinity) + LEAD_OHM, own[at]!));
      for (const [at, amp] of current_A.entries()) {
        if (amp === null) continue;
        const { openVolt, sourceOhm } = places[at]!.seen(own[at]!);
        const got = openVolt / (sourceOhm + LEAD_OHM + path_ohm[at]!);
        expect(Math.abs(got / amp - 1)).toBeLessThan(TEN_DIGITS);
      }
      expect(Math.abs(places[0]!.lift(feed_V).liftVolt - ground_V)).toBeLessThan(TEN_DIGITS);
    },
  );

  it('shows no lift of the ground to boxes whose BATTERY - lead lies on that ground', () => {
    const circuit = new SharedCircuit();
    Object.assign(circuit.common, { groundOhm: 1, isBatteryLeadOnBench: false });
    const place = circuit.join();
    place.draws(50, { openVolt: 10, sourceOhm: 50 });
    expect(place.lift(10).liftVolt).toBe(0);
  });

  it('warms a copper winding to the resistance that its watts and its kelvin a watt make', () => {
    const circuit = new SharedCircuit();
    const place = circuit.join({ copperPart: 0.5, kelvinPerWatt: 60, lagMs: 90_000 });
    const own = { openVolt: 10, sourceOhm: 200 };
    place.warm(0.3, 90_000);
    // One time constant: 1 - 1/e of 18 K, half of it copper of 0.00393 a kelvin (IEC 60028).
    expect(place.seen(own).sourceOhm).toBeCloseTo(200 * (1 + 0.00393 * 0.5 * 18 * (1 - Math.exp(-1))), 6);
    place.warm(0.3, 3_600_000);
    expect(place.seen(own).sourceOhm).toBeCloseTo(200 * (1 + 0.00393 * 0.5 * 18), 6);
  });
});

describe('several simulated boxes at one cluster', () => {
  const boxesOf = (name = 'thermal-cluster', speed = 1) =>
    new ClusterBoxes({ cluster: clusterNamed(name), seed: 5, speed, sent: () => undefined });

  it('live in one time, whatever each is doing', () => {
    const { boxes } = boxesOf();
    const cluster = boxesOf();
    cluster.advance(1_234);
    expect(new Set(cluster.boxes.map((box) => box.nowMs)).size).toBe(1);
    expect(boxes).toHaveLength(4);
  });

  inSoak('move one needle when another gauge draws more, by the common ohms and not without them', () => {
    const moved = (feedOhm: number): number => {
      const cluster = boxesOf();
      cluster.applyChange(JSON.stringify({ common: { feedOhm } }));
      const [neighbour, watched] = cluster.boxes.map((box) => box.world.vehicle);
      watched!.settings.handOhm = 58;
      neighbour!.settings.handOhm = 500;
      cluster.advance(90_000);
      const before = watched!.needle.angleFraction;
      neighbour!.settings.handOhm = 40;
      cluster.advance(90_000);
      return watched!.needle.angleFraction - before;
    };
    // 0.84 % of 0.43 W on an arc of 0.89 W (ngspice, cases 1 and 2), less at most the play of the needle.
    expect(moved(0.5)).toBeLessThan(-0.0041 + 0.004);
    expect(moved(0.5)).toBeGreaterThan(-0.0041 - 0.001);
    expect(Math.abs(moved(0))).toBeLessThan(1e-9);
  });

  it('draw a dial whose ends are where its sender’s ends hold the needle once its coil is warm', () => {
    const cluster = boxesOf('mixed-cluster', 600);
    const { settings, needle } = cluster.boxes[2]!.world.vehicle;
    for (const [ohm, end] of [
      [10, 1],
      [184, 0],
    ] as const) {
      settings.handOhm = ohm - LEAD_OHM;
      // 1,200 s of the needle's: more than ten of the coil's time constants.
      cluster.advance(2_000);
      // The play of the needle, and a hair's scatter.
      expect(Math.abs(needle.angleFraction - end)).toBeLessThan(0.004 + 0.004);
    }
  });

  it('say what was wrong with a change, and change nothing then', () => {
    const cluster = boxesOf();
    expect(cluster.applyChange('{"common": {"feedOhm": -1}}')).toContain('feedOhm');
    expect(cluster.applyChange('{"box": 9, "change": {}}')).toContain('must be');
    expect(cluster.applyChange('{"box": 1, "change": {"supplyVolt": 12}}')).toBeUndefined();
    expect(cluster.boxes.map((box) => box.world.vehicle.settings.supplyVolt)).toEqual([13.5, 12, 13.5, 13.5]);
  });
});
