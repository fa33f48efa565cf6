import { describe, expect, it } from 'vitest';
import {
  currentRangeMilliamp,
  hardwareTrip,
  meterChannels,
  ohmmeter,
  senseLoadMilliohm,
  type MeterChannelName,
} from '../../firmware-ts/board/reference-design';
import {
  currentRangeAmp,
  currentZeroVolt,
  frontEnd,
  lawFromParts,
  nominalTripParts,
  sourceFromParts,
  tripMilliamp,
} from '../../hardware-notes/calculations/front-end';
import { weldedMicroamp } from '../../firmware-ts/guard/welded';
import { randomSource } from '../../host/core/numeric/random';

const names: readonly MeterChannelName[] = [
  'terminal',
  'supply',
  'groundSense',
  'current',
  'groundOffset',
  'reference',
];

/** Solves a small linear system by elimination; the node equations below need no pivoting. */
function solve(matrix: readonly (readonly number[])[], right: readonly number[]): number[] {
  const rows = matrix.map((row, index) => [...row, right[index] ?? 0]);
  const size = rows.length;
  for (let column = 0; column < size; column += 1) {
    const pivot = rows[column]!;
    for (let row = 0; row < size; row += 1) {
      if (row === column) continue;
      const factor = rows[row]![column]! / pivot[column]!;
      for (let index = column; index <= size; index += 1) rows[row]![index]! -= factor * pivot[index]!;
    }
  }
  return rows.map((row, index) => row[size]! / row[index]!);
}

describe('the laws the firmware uses', () => {
  it.each(names)('%s follows from the resistors that are drawn', (name) => {
    const law = lawFromParts(name);
    expect(law.scale).toBeCloseTo(meterChannels[name].scale, 12);
    expect(law.offset).toBeCloseTo(meterChannels[name].offset, 6);
  });

  it('count the sense divider as the load it is', () => {
    const { upperOhm, lowerOhm } = frontEnd.dividers.terminal;
    expect(senseLoadMilliohm).toBe((upperOhm + lowerOhm) * 1000);
  });
});

describe('the node equations of the front end', () => {
  it('give the divider law for volts of both signs', () => {
    const { upperOhm, lowerOhm } = frontEnd.dividers.terminal;
    for (const volt of [-12, 0, 5, 16]) {
      const [node = NaN] = solve(
        [[1 / upperOhm + 1 / lowerOhm]],
        [volt / upperOhm + frontEnd.biasVolt / lowerOhm],
      );
      const { scale, offset } = lawFromParts('terminal');
      expect((node - frontEnd.biasVolt) * 1e6 * scale + offset).toBeCloseTo(volt * 1e6, 3);
    }
  });

  it('give the current law, with an ideal amplifier between two dividers', () => {
    const { inputOhm, feedbackOhm } = frontEnd.currentAmplifier;
    for (const amp of [-0.3, 0, 0.225]) {
      // Unknowns: inverting node (equal to the other), output.
      const plus = (amp * 0.5 * feedbackOhm + frontEnd.biasVolt * inputOhm) / (inputOhm + feedbackOhm);
      const [, output = NaN] = solve(
        [
          [1, 0],
          [1 / inputOhm + 1 / feedbackOhm, -1 / feedbackOhm],
        ],
        [plus, 0],
      );
      expect((output - frontEnd.biasVolt) * 1e6 * lawFromParts('current').scale).toBeCloseTo(amp * 1e6, 3);
    }
  });

  it('show why the ohmmeter needs its follower: without it over 1 % of the low current would miss the post', () => {
    const { inputOhm, feedbackOhm } = frontEnd.referenceAmplifier;
    const topVolt = nominalTripParts.analogueVolt;
    const footVolt = topVolt - sourceFromParts('low').milliamp * (frontEnd.source.lowReferenceOhm / 1000);
    const node = (topVolt * feedbackOhm + frontEnd.biasVolt * inputOhm) / (inputOhm + feedbackOhm);
    const lostMilliamp = (1000 * (footVolt - node)) / inputOhm;
    expect(lostMilliamp / sourceFromParts('low').milliamp).toBeGreaterThan(0.01);
  });
});

describe('the current channel', () => {
  it('reads 1.1 A either way at the lowest supply of its amplifier, and both comparators trip inside that', () => {
    expect(currentRangeAmp(4.8)).toBeGreaterThanOrEqual(currentRangeMilliamp / 1000);
    expect(hardwareTrip.atOnce.maxMilliamp).toBeLessThanOrEqual(currentRangeMilliamp);
  });

  it('has no more zero than an uncalibrated box may show', () => {
    const zeroMicroamp = (1e6 * currentZeroVolt()) / (nominalTripParts.shuntOhm * nominalTripParts.gain);
    expect(zeroMicroamp).toBeCloseTo(3984, 0);
    expect(zeroMicroamp).toBeLessThan(weldedMicroamp(false));
  });
});

describe('the ohmmeter source', () => {
  it.each(['low', 'high'] as const)('has the %s current and reference the firmware expects', (range) => {
    const { milliamp, referenceOhm } = sourceFromParts(range);
    expect((milliamp * 1000) / ohmmeter[range].microamp).toBeGreaterThan(0.95);
    expect((milliamp * 1000) / ohmmeter[range].microamp).toBeLessThan(1.05);
    expect((referenceOhm * 1000) / ohmmeter[range].referenceMilliohm).toBeCloseTo(1, 3);
  });
});

describe('the hardware trip', () => {
  it('fires at about its nominal current either way', () => {
    const trip = tripMilliamp(nominalTripParts);
    for (const milliamp of trip.atOnce)
      expect(Math.abs(milliamp - hardwareTrip.atOnce.milliamp)).toBeLessThan(5);
    for (const milliamp of trip.slow) expect(Math.abs(milliamp - hardwareTrip.slow.milliamp)).toBeLessThan(5);
  });

  it('stays between its limits for 2000 boxes drawn from the parts: 1 % parts, 5 V within 2 %, 0.2 % gain, 8 mV of zero', () => {
    const random = randomSource(21);
    const spread = (value: number, part: number): number => value * (1 + part * (2 * random.uniform() - 1));
    for (let draw = 0; draw < 2000; draw += 1) {
      const both = tripMilliamp({
        analogueVolt: spread(nominalTripParts.analogueVolt, 0.02),
        biasVolt: spread(nominalTripParts.biasVolt, 0.001),
        ohms: [
          spread(nominalTripParts.ohms[0], 0.01),
          spread(nominalTripParts.ohms[1], 0.01),
          spread(nominalTripParts.ohms[2], 0.01),
          spread(nominalTripParts.ohms[3], 0.01),
          spread(nominalTripParts.ohms[4], 0.01),
          spread(nominalTripParts.ohms[5], 0.01),
        ],
        shuntOhm: spread(nominalTripParts.shuntOhm, 0.01),
        gain: spread(nominalTripParts.gain, 0.002),
        zeroVolt: currentZeroVolt() * (2 * random.uniform() - 1),
      });
      for (const pair of ['atOnce', 'slow'] as const)
        for (const milliamp of both[pair]) {
          expect(milliamp).toBeGreaterThan(hardwareTrip[pair].minMilliamp);
          expect(milliamp).toBeLessThan(hardwareTrip[pair].maxMilliamp);
        }
    }
  });
});
