import { describe, expect, it } from 'vitest';
import { simulatedGauges } from '../../../firmware-ts/board/simulated/gauges/catalogue';
import {
  crossCoilDegrees,
  dividerVolt,
  heaterWatt,
  seriesAmp,
  stabiliserDuty,
  twoCoilDegrees,
  twoCoilSource,
} from '../../../firmware-ts/board/simulated/gauges/laws';

const SUPPLY = 12.6;
const coils = { limitingOhm: 90, operatingOhm: 90 };

function twoCoil(senderOhm: number, supplyVolt = SUPPLY) {
  const { openVolt, sourceOhm } = twoCoilSource(coils, supplyVolt, 0);
  const node = Number.isFinite(senderOhm) ? (openVolt * senderOhm) / (sourceOhm + senderOhm) : openVolt;
  return {
    degrees: twoCoilDegrees(coils, { node, supply: supplyVolt, ground: 0 }),
    limitingMilliamp: ((supplyVolt - node) / 90) * 1000,
    operatingMilliamp: (node / 90) * 1000,
  };
}

describe('two-coil gauge, 12.6 V, both coils 90 ohm (computed vectors: angle from the ratio of currents)', () => {
  it.each([
    [0, 0],
    [10, 5.71],
    [22.5, 11.31],
    [45, 18.43],
    [67.5, 23.2],
    [90, 26.57],
    [Infinity, 45],
  ])('stands at the angle for %d ohm', (ohm, degrees) => {
    expect(twoCoil(ohm).degrees).toBeCloseTo(degrees, 2);
  });

  it('carries 105.0 and 35.0 mA at 45 ohm, 140 mA shorted, 70 mA open', () => {
    expect(twoCoil(45).limitingMilliamp).toBeCloseTo(105, 6);
    expect(twoCoil(45).operatingMilliamp).toBeCloseTo(35, 6);
    expect(twoCoil(0).limitingMilliamp).toBeCloseTo(140, 6);
    expect(twoCoil(Infinity).limitingMilliamp).toBeCloseTo(70, 6);
  });

  it('does not care about the supply from 9 to 16 V', () => {
    for (const volt of [9, 16]) expect(twoCoil(45, volt).degrees).toBeCloseTo(18.43, 2);
  });

  it('reads a 75 ohm sender as 65.8 ohm with its ground lifted by half a volt, 73.1 at 0.1 V, 69.4 at 0.3 V', () => {
    for (const [groundVolt, looksLike] of [
      [0.1, 73.1],
      [0.3, 69.4],
      [0.5, 65.8],
    ] as const) {
      const { openVolt, sourceOhm } = twoCoilSource(coils, SUPPLY, groundVolt);
      const node = (openVolt * 75) / (sourceOhm + 75);
      const lifted = twoCoilDegrees(coils, { node, supply: SUPPLY, ground: groundVolt });
      expect(lifted).toBeCloseTo(twoCoil(looksLike).degrees, 1);
    }
  });
});

describe('thermal gauge', () => {
  // A published thread on 10 to 73 ohm fuel circuits: 225 mA full, 59 mA empty, heater 12.22 ohm at 5 V.
  it('carries 225 mA at 10 ohm and 59 mA at 73 ohm with a 12.22 ohm heater at 5 V', () => {
    expect(seriesAmp(5, 12.22, 10) * 1000).toBeCloseTo(225, 0);
    expect(seriesAmp(5, 12.22, 73) * 1000).toBeCloseTo(58.7, 1);
  });

  it('has a heater of about 0.6 W at the hot end in both families', () => {
    expect(heaterWatt(seriesAmp(5, 12.22, 10), 12.22)).toBeCloseTo(0.62, 1);
    expect(heaterWatt(seriesAmp(10, 58, 40), 58)).toBeCloseTo(0.6, 1);
  });

  it('needs a stabiliser that is on for 0.63, 0.55, 0.50 of the time at 12.6, 13.5, 14.2 V to heat like 10 V', () => {
    for (const [volt, duty] of [
      [12.6, 0.63],
      [13.5, 0.55],
      [14.2, 0.5],
    ] as const) {
      expect(stabiliserDuty(10, volt)).toBeCloseTo(duty, 2);
    }
    expect(stabiliserDuty(10, 9)).toBe(1);
  });
});

describe('electronic gauge', () => {
  // Published: 5 V and 1 kohm pull-up give 0.412 V at 89.9 ohm and 0.3566 V at 76.8 ohm.
  it('sees 0.412 V at 89.9 ohm and 0.3566 V at 76.8 ohm through 1 kohm from 5 V', () => {
    expect(dividerVolt(5, 1000, 89.9)).toBeCloseTo(0.412, 3);
    expect(dividerVolt(5, 1000, 76.8)).toBeCloseTo(0.3566, 4);
    expect(dividerVolt(5, 1000, Infinity)).toBe(5);
  });
});

describe('cross-coil gauge', () => {
  it('turns by the ratio of its currents only', () => {
    const shape = { ...coils, highTurns: 1, buckingTurns: 0.5 };
    const at = (supply: number) => crossCoilDegrees(shape, { node: supply / 3, supply, ground: 0 });
    expect(at(9)).toBeCloseTo(at(16), 9);
  });
});

describe('every simulated gauge', () => {
  it('has its five kinds and a dial that rises with its own original sender', () => {
    const kinds = new Set(simulatedGauges.map(({ mechanism }) => mechanism.kind));
    expect([...kinds].sort()).toEqual(['cross-coil', 'electronic', 'moving-coil', 'thermal', 'two-coil']);
    for (const { marks, name } of simulatedGauges) {
      const fractions = marks.map(({ angleFraction }) => angleFraction);
      expect(fractions, name).toEqual([...fractions].sort((a, b) => a - b));
      expect([fractions[0], fractions[fractions.length - 1]], name).toEqual([0, 1]);
    }
  });

  it('has a sender inside what the box can make, and a replacement that reads wrong', () => {
    for (const { marks, name, mechanism, originalSender, replacementSender } of simulatedGauges) {
      const first = mechanism.steadyDrive(originalSender(marks[0]!.reading));
      const span = mechanism.steadyDrive(originalSender(marks[marks.length - 1]!.reading)) - first;
      const errors = marks.map(({ reading, angleFraction }) => {
        const ohm = originalSender(reading);
        expect(ohm >= 2 && ohm <= 6300, `${name} ${reading}: ${ohm}`).toBe(true);
        return Math.abs((mechanism.steadyDrive(replacementSender(reading)) - first) / span - angleFraction);
      });
      expect(Math.max(...errors), name).toBeGreaterThan(0.02);
    }
  });

  it('has a flat middle in the electronic one', () => {
    const electronic = simulatedGauges.find(({ name }) => name === 'electronic-temperature')!;
    const at = (celsius: number) => electronic.mechanism.steadyDrive(electronic.originalSender(celsius));
    expect(at(85)).toBeCloseTo(at(103), 9);
    expect(at(110)).toBeGreaterThan(at(103));
  });
});
