import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { families, type CauseName, type TestName } from '../../../host/core/diagnosis';
import { randomSource } from '../../../host/core/numeric/random';
import { drawVehicle, measure, plantable, worthOf } from '../../../host/core/simulated-vehicle';
import { nodeVolts } from '../../../host/core/simulated-vehicle/nodes';
import { NODE, solved } from '../../../host/core/simulated-vehicle/circuit';
import { ideal, seenAt } from '../../../host/core/simulated-vehicle/needle';
import vectors from '../../vectors/vehicle-ngspice.json';

describe('the circuit of a simulated vehicle', () => {
  it.each(vectors.cases.map((each) => [`${each.family}, ${each.fault}, ${each.loads}`, each] as const))(
    'has the volts of an outside solver: %s',
    (_, { branches, injections, volts }) => {
      const found = nodeVolts(
        volts.length,
        branches.map(([from = 0, to = 0, ohm = 1, emf = 0]) => ({ from, to, ohm, emf })),
        injections.map(([from = 0, to = 0, amp = 0]) => ({ from, to, amp })),
      );
      volts.forEach((volt, node) => {
        expect(Math.abs((found[node] ?? NaN) - volt), `node ${node}`).toBeLessThan(
          2e-9 * (1 + Math.abs(volt)),
        );
      });
    },
  );

  // Published effect and figures of the trade: 90 + 90 ohm on 12.6 V, 75 ohm, the gauge's ground 0.52 V up looks like 65.5.
  it('sees 65.5 ohm for 75 with the gauge ground lifted by 0.52 V', () => {
    const family = { ...families['two-coil-fuel'], lowEndOhm: 0.001 };
    const drawing = ideal(family);
    const lifted = { ...drawing, bodyStrapOhm: 0.052, quietAmp: 10, battery: { emf: 12.6, ohm: 1e-4 } };
    const places = [65.5, 75].map((ohm) => seenAt(drawing, solved(drawing, { kind: 'resistor', ohm }), 0));
    const seen = seenAt(lifted, solved(lifted, { kind: 'resistor', ohm: 75 }), 0);
    expect(Math.abs(seen - (places[0] ?? 0))).toBeLessThan(0.004);
    expect(seen).toBeLessThan((places[1] ?? 0) - 0.03);
  });

  it('heats a hot-wire gauge alike at every battery that its stabiliser can hold', () => {
    const drawing = ideal(families['thermal-temperature']);
    const places = [11.5, 12.6, 14.4].map((emf) =>
      seenAt(drawing, solved({ ...drawing, battery: { emf, ohm: 1e-4 } }, { kind: 'resistor', ohm: 90 }), 0),
    );
    for (const place of places) expect(place).toBeCloseTo(places[0] ?? 0, 3);
  });
});

describe('a lead with two loads on it, one after the other', () => {
  // I = V/R, Rs = (V1 - V2)/(I2 - I1), E = V1 + I1 Rs: Ohm's and Kirchhoff's laws.
  it.each([
    ['as drawn', {}, 58],
    ['with 49 ohm in its wire', { wireOhm: 49 }, 107],
  ] as const)('tells volts and ohms behind it: %s', (_, change, behindOhm) => {
    const vehicle = { ...ideal(families['thermal-temperature']), ...change };
    const [one = 0, other = 0] = [91, 38].map(
      (ohm) => solved(vehicle, { kind: 'resistor', ohm }).volts[NODE.plug],
    );
    const [oneAmp, otherAmp] = [one / 91, other / 38];
    const ohm = (one - other) / (otherAmp - oneAmp);
    expect(ohm).toBeCloseTo(behindOhm, 1);
    expect(one + oneAmp * ohm).toBeCloseTo(10, 2);
  });
});

describe('a vehicle with its positive post on the body', () => {
  it.each(Object.entries(families))(
    'has every volt of a %s mirrored and the needle where it was',
    (_, family) => {
      const vehicle = drawVehicle(family, [], randomSource(5));
      const mirrored = { ...vehicle, isPositiveGround: true };
      for (const plug of [
        { kind: 'open' },
        { kind: 'resistor', ohm: 60 },
        { kind: 'sender', ohm: 90 },
      ] as const) {
        const [one, other] = [solved(vehicle, plug, 'loaded'), solved(mirrored, plug, 'loaded')];
        one.volts.forEach((volt, node) => expect(other.volts[node]).toBeCloseTo(-volt, 9));
        expect(seenAt(mirrored, other, 0)).toBeCloseTo(seenAt(vehicle, one, 0), 9);
      }
    },
  );
});

describe('a good part in the place of another', () => {
  const random = randomSource(23);
  const observer = { random, hasBox: true, wrongDigits: 0, loads: { middleOhm: 110, lowestOhm: 40 } };
  const family = families['thermal-temperature'];
  const puts = (fault: CauseName, test: TestName): number => {
    const vehicle = { ...drawVehicle(family, [fault], randomSource(3)), coolPlace: 0.3 };
    return Array.from({ length: 60 }, () => measure(vehicle, test, observer)).filter((each) => each === 1)
      .length;
  };

  it.each([
    ['sender-open', 'swap-sender'],
    ['stabiliser-closed', 'swap-stabiliser'],
    ['gauge-open', 'swap-gauge'],
  ] as const)('puts the needle right for %s, and for nothing else', (fault, test) => {
    expect(puts(fault, test)).toBeGreaterThan(45);
    for (const other of ['swap-sender', 'swap-stabiliser', 'swap-gauge'] as const)
      if (other !== test) expect(puts(fault, other), other).toBeLessThan(15);
    expect(puts('sound', test)).toBeLessThan(15);
  });
});

describe('a joint that is wiggled', () => {
  it('makes the needle jump where it is corroded, seldom elsewhere', () => {
    const random = randomSource(11);
    const observer = { random, hasBox: true, wrongDigits: 0, loads: { middleOhm: 110, lowestOhm: 40 } };
    const jumps = (faults: Parameters<typeof drawVehicle>[1]): number => {
      const vehicle = drawVehicle(families['thermal-temperature'], faults, random);
      return Array.from({ length: 200 }, () => measure(vehicle, 'wiggle', observer)).filter(
        (each) => each === 1,
      ).length;
    };
    expect(jumps(['wire-corroded'])).toBeGreaterThan(60);
    expect(jumps([])).toBeLessThan(20);
    expect(jumps(['gauge-sticky'])).toBeLessThan(20);
  });
});

describe('the world of a diagnosis', () => {
  const importsIn = (folder: string): string[] => {
    const root = fileURLToPath(new URL(`../../../host/core/${folder}/`, import.meta.url));
    return readdirSync(root).flatMap((file) =>
      [...readFileSync(`${root}${file}`, 'utf8').matchAll(/from '(\.[^']+)'/g)].map(
        (match) => match[1] ?? '',
      ),
    );
  };

  it('shares nothing with the model that decides but names and the data of families', () => {
    const shared = importsIn('simulated-vehicle').filter((path) => path.includes('diagnosis'));
    expect([...new Set(shared)].sort()).toEqual(['../diagnosis/family', '../diagnosis/names']);
    expect(importsIn('diagnosis').filter((path) => path.includes('simulated-vehicle'))).toEqual([]);
  });
});

describe('faults that can be planted', () => {
  it.each(Object.entries(families))(
    'move the needle of a %s, most of them by more than its making',
    (_, family) => {
      const names = plantable(family).filter((name) => name !== 'sound');
      expect(names.length).toBeGreaterThan(15);
      const worths = names.map((name) =>
        worthOf(drawVehicle(family, [name], randomSource(7)), drawVehicle(family, [], randomSource(7))),
      );
      expect(worths.every((worth) => worth >= 0)).toBe(true);
      expect(worths.filter((worth) => worth > 0.05).length).toBeGreaterThan(0.55 * names.length);
    },
  );
});
