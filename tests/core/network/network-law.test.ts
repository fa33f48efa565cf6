import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import vectors from '../../vectors/networks.json';
import { heaterMilliamp } from '../../support/gauge-laws';
import {
  parallelOhm,
  powerShares,
  treeOf,
  treeOhm,
} from '../../../host/core/network/closed-form/ladder-tree';
import { sensitivities } from '../../../host/core/network/report/error-table';
import { gaugeBranchOhm, seenOhm } from '../../../host/core/network/closed-form/network-law';
import { networkOf, topologies } from '../../../host/core/network/closed-form/topology';
import type { Topology } from '../../../host/core/network/closed-form/topology';
import { anyNetwork, anyOhm } from './arbitraries';

const topologyNamed = (name: string): Topology => topologies.find((each) => each === name) ?? 'none';

const STEP = 1e-5;
const slope = (of: (ohm: number) => number, ohm: number): number =>
  (of(ohm * (1 + STEP)) - of(ohm * (1 - STEP))) / (2 * STEP * ohm);

describe('what the gauge sees', () => {
  it.each(vectors.forward)('is right for $topology $parts_ohm', ({ topology, parts_ohm, seen }) => {
    const network = networkOf(topologyNamed(topology), parts_ohm);
    expect(network.topology).toBe(topology);
    for (const [sender, wanted] of seen) expect(seenOhm(network, sender!)).toBeCloseTo(wanted!, 7);
  });

  it('equals the series and parallel rules applied piece by piece', () => {
    fc.assert(
      fc.property(anyNetwork(), anyOhm(), (network, senderOhm) => {
        const partsOhm = network.parts.map((part) => part.resistanceOhm);
        const byTree = treeOhm(treeOf(network), partsOhm, senderOhm);
        expect(Math.abs(seenOhm(network, senderOhm) / byTree - 1)).toBeLessThan(1e-12);
      }),
    );
  });

  it('changes by less than the sender, in ohms, in siemens and by ratio', () => {
    fc.assert(
      fc.property(anyNetwork(), anyOhm(), (network, senderOhm) => {
        const perOhm = slope((ohm) => seenOhm(network, ohm), senderOhm);
        const seen = seenOhm(network, senderOhm);
        const roundingOhm = (1e-10 * seen) / senderOhm;
        expect(perOhm).toBeGreaterThanOrEqual(-roundingOhm);
        expect(perOhm).toBeLessThanOrEqual(1 + 1e-8 + roundingOhm);
        const perSiemens = perOhm * (senderOhm / seen) ** 2;
        const perRatio = perOhm * (senderOhm / seen);
        expect(perRatio).toBeLessThanOrEqual(1 + 1e-8 + 1e-10);
        expect(perSiemens).toBeLessThanOrEqual(1 + 1e-8 + 1e-10 * (senderOhm / seen));
      }),
      { numRuns: 1000 },
    );
  });

  it('never falls when any part or the sender rises', () => {
    fc.assert(
      fc.property(
        anyNetwork(),
        anyOhm(),
        fc.nat(2),
        fc.double({ min: 1, max: 3, noNaN: true }),
        (network, ohm, at, by) => {
          const raised = {
            ...network,
            parts: network.parts.map((part, index) =>
              index === at ? { ...part, resistanceOhm: part.resistanceOhm * by } : part,
            ),
          };
          const before = seenOhm(network, ohm);
          expect(seenOhm(raised, ohm)).toBeGreaterThanOrEqual(before * (1 - 1e-14));
          expect(seenOhm(network, ohm * by)).toBeGreaterThanOrEqual(before * (1 - 1e-14));
        },
      ),
    );
  });

  it.each([
    ['series', [20], 0, 20],
    ['series', [20], Infinity, Infinity],
    ['shunt', [20], 0, 0],
    ['shunt', [20], Infinity, 20],
    ['shunt', [Infinity], 50, 50],
    ['shunt', [0], Infinity, 0],
    ['shunt-then-series', [5, 20], Infinity, 25],
    ['series-then-shunt', [5, 20], Infinity, 20],
    ['three-resistor', [5, 20, 7], Infinity, 25],
    ['three-resistor', [5, 0, 7], 50, 5],
    ['three-resistor', [Infinity, 20, 7], 50, Infinity],
  ] as const)('stays right for %s %s with the sender at %s ohm', (topology, partsOhm, sender, seen) => {
    expect(seenOhm(networkOf(topology, partsOhm), sender)).toBe(seen);
  });

  it('with a resistor across the gauge, moves the needle as the multiplied sender would', () => {
    fc.assert(
      fc.property(anyOhm(), anyOhm(), anyOhm(), anyOhm(), (gaugeOhm, across, series, sender) => {
        const network = networkOf('gauge-shunt', [across, series], gaugeOhm);
        // Ohm's law: total current through gauge and its shunt, then the gauge's part of it.
        const total = 12 / (parallelOhm(gaugeOhm, across) + series + sender);
        const inGauge = (1000 * total * across) / (across + gaugeOhm);
        const alike = heaterMilliamp({ heaterOhm: gaugeOhm, effectiveVolt: 12 }, seenOhm(network, sender));
        expect(alike / inGauge).toBeCloseTo(1, 9);
        expect(gaugeBranchOhm(network, gaugeOhm)).toBe(parallelOhm(gaugeOhm, across));
      }),
    );
  });

  it('with a shorted resistor across the gauge, is an open sender', () => {
    expect(seenOhm(networkOf('gauge-shunt', [0, 5], 60), 40)).toBe(Infinity);
    expect(seenOhm(networkOf('gauge-shunt', [0], 60), 0)).toBe(Infinity);
    expect(seenOhm(networkOf('gauge-shunt', [Infinity, 5], 60), 40)).toBe(45);
  });
});

describe('sensitivities', () => {
  it('are the hand-computed ones for the constructed network', () => {
    const { topology, parts_ohm, sender_ohm, sender, series, shunt } = vectors.sensitivities;
    const found = sensitivities(networkOf(topologyNamed(topology), parts_ohm), sender_ohm);
    expect(found.sender).toBeCloseTo(sender, 4);
    expect(found.parts[0]).toBeCloseTo(series, 4);
    expect(found.parts[1]).toBeCloseTo(shunt, 4);
  });

  it('sum to 1 over sender and parts, and equal the slopes', () => {
    fc.assert(
      fc.property(anyNetwork(), anyOhm(), (network, senderOhm) => {
        const found = sensitivities(network, senderOhm);
        expect(found.sender + found.parts.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 12);
        const bySlope =
          (slope((ohm) => seenOhm(network, ohm), senderOhm) * senderOhm) / seenOhm(network, senderOhm);
        expect(Math.abs(found.sender - bySlope)).toBeLessThan(1e-7);
      }),
    );
  });

  it('with a resistor across the gauge, equal the slopes of every part', () => {
    fc.assert(
      fc.property(anyOhm(), anyOhm(), anyOhm(), anyOhm(), (gaugeOhm, across, series, sender) => {
        const found = sensitivities(networkOf('gauge-shunt', [across, series], gaugeOhm), sender);
        const seen = (shunt: number, lead: number): number =>
          seenOhm(networkOf('gauge-shunt', [shunt, lead], gaugeOhm), sender);
        const whole = seen(across, series);
        expect(found.parts[0]).toBeCloseTo((slope((ohm) => seen(ohm, series), across) * across) / whole, 5);
        expect(found.parts[1]).toBeCloseTo((slope((ohm) => seen(across, ohm), series) * series) / whole, 5);
        expect(found.sender + found.parts[1]!).toBeCloseTo(1, 12);
      }),
    );
  });

  it('are finite for shorted and open elements', () => {
    for (const topology of topologies.slice(1, 6))
      for (const sender of [0, 40, Infinity])
        for (const part of [0, Infinity]) {
          const shares = powerShares(
            treeOf(networkOf(topology, [part, part, part])),
            [part, part, part],
            sender,
          );
          expect([shares.sender, ...shares.parts].every(Number.isFinite)).toBe(true);
        }
  });
});
