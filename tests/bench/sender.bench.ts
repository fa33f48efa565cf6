import { describe, expect, it } from 'vitest';
import { monteCarlo } from '../../host/core/budget';
import { identifySender } from '../../host/core/identify';
import { randomSource } from '../../host/core/numeric/random';
import { coverageFactor } from '../../host/core/numeric/student-t';
import { fitSender, senderOhmAt, senderResponse, type SenderPoint } from '../../host/core/sender';
import { answered } from '../support/answer';
import material from '../vectors/thermistor-ntc-ratio-table.json';
import meyer from '../vectors/nist-strd-mgh10.json';
import { addRow, medianMs } from './table';

const part = 'sender';
const microseconds = (ms: number, calls: number): string => `${((1000 * ms) / calls).toFixed(2)} us`;

/** The published material curve (Amphenol Thermometrics, type 1) with another size and steepness: no law here is exact on it. */
const trueOhm = (ohm25: number, steepness: number) => (celsius: number) => {
  const lnRatio = (kelvin: number): number => {
    const { A, B, C, D } = material.resistance_fit;
    return A + B / kelvin + C / kelvin ** 2 + D / kelvin ** 3;
  };
  return ohm25 * Math.exp(steepness * (lnRatio(celsius + 273.15) - lnRatio(298.15)));
};

describe('speed', () => {
  const thirty = Array.from({ length: 30 }, (_, i): SenderPoint => {
    const value = 10 + 3 * i;
    return {
      value,
      resistanceOhm: trueOhm(900, 1)(value),
      valueUncertainty: 0.5,
      resistanceUncertaintyOhm: 1,
    };
  });

  it('of fits', () => {
    const points = meyer.x.map((value, i) => ({ value, resistanceOhm: meyer.y[i]! }));
    const mgh10 = medianMs(101, () => fitSender(points, { unit: 'degC', model: 'exponential' }));
    addRow({
      part,
      what: 'NIST MGH10 through the sender fit, no start given',
      measured: `${mgh10.toFixed(2)} ms`,
    });
    const whole = medianMs(101, () => fitSender(thirty, { unit: 'degC' }));
    addRow({
      part,
      what: 'Steinhart-Hart, 30 points, errors in both axes, all reports',
      measured: `${whole.toFixed(2)} ms`,
    });
  });

  it('of evaluation', () => {
    const calls = 20_000;
    for (const model of ['steinhart-hart', 'table'] as const) {
      const response = answered(senderResponse(answered(fitSender(thirty, { unit: 'degC', model }))));
      const forward = medianMs(11, () => sumOver(calls, (share) => response.ohm(10 + 87 * share)));
      const backward = medianMs(11, () => sumOver(calls, (share) => response.value(70 + 600 * share)));
      addRow({
        part,
        what: `${model}: resistance of a value, value of a resistance`,
        measured: `${microseconds(forward, calls)}, ${microseconds(backward, calls)}`,
      });
    }
  });

  it('of identification among 1,000 known senders', () => {
    const random = randomSource(3);
    const known = Array.from({ length: 1000 }, (_, i) => {
      const ohm = trueOhm(200 + 2000 * random.uniform(), 0.85 + 0.3 * random.uniform());
      const points = [20, 60, 100].map((value) => ({ value, resistanceOhm: ohm(value) }));
      return {
        id: `sender ${i}`,
        response: answered(senderResponse(answered(fitSender(points, { unit: 'degC' })))),
      };
    });
    const points = [40, 90].map((value) => ({ value, resistanceOhm: known[500]!.response.ohm(value) }));
    const ms = medianMs(5, () => identifySender(points, 'degC', known));
    addRow({ part, what: 'identify two points among 1,000 senders', measured: `${ms.toFixed(0)} ms` });
  });

  it('of Monte Carlo and Student t', () => {
    const inputs = ['a', 'b', 'c', 'd'].map((name) => ({
      name,
      value: 0,
      distribution: { kind: 'rectangular', halfWidth: 1 } as const,
    }));
    const ms = medianMs(3, () => monteCarlo(inputs, { draws: 1_000_000, seed: 1 }));
    addRow({ part, what: 'Monte Carlo, a million draws of four inputs', measured: `${ms.toFixed(0)} ms` });
    const t = medianMs(11, () => sumOver(1000, (share) => coverageFactor(0.95, 1 + 100 * share)));
    addRow({ part, what: 'Student t quantile', measured: microseconds(t, 1000) });
  });
});

function sumOver(calls: number, call: (share: number) => number): number {
  let sum = 0;
  for (let i = 0; i < calls; i += 1) sum += call(i / calls);
  return sum;
}

describe('coverage of 95 % intervals', () => {
  const places = [
    ['at a quarter', 0.25],
    ['in the middle', 0.5],
    ['at the hot end', 1],
    ['15 % beyond it', 1.15],
  ] as const;

  it.each(['given', 'residuals', 'assumed'] as const)(
    'over 2,000 random thermistors and baths, uncertainty %s',
    (basis) => {
      const random = randomSource(17);
      const hits = places.map(() => 0);
      let trials = 0;
      while (trials < 2000) {
        const bath = simulatedBath(basis, random);
        const sender = fitSender(bath.points, { unit: 'degC' });
        if (sender.kind === 'refused') continue;
        trials += 1;
        places.forEach(([, share], i) => {
          const celsius = bath.from + (bath.to - bath.from) * share;
          const found = answered(senderOhmAt(sender, celsius));
          if (Math.abs(found.resistanceOhm - bath.ohm(celsius)) <= found.expandedUncertaintyOhm)
            hits[i]! += 1;
        });
      }
      const percents = hits.map((count) => (100 * count) / trials);
      addRow({
        part,
        what: `truth inside the 95 % interval, uncertainty ${basis}: ${places.map(([name]) => name).join(', ')}`,
        measured: percents.map((each) => `${each.toFixed(1)} %`).join(', '),
        ...(basis === 'assumed' ? {} : { goal: '93 to 98 %' }),
      });
      for (const each of percents) expect(each).toBeGreaterThan(basis === 'assumed' ? 85 : 92);
    },
  );
});

function simulatedBath(basis: 'given' | 'residuals' | 'assumed', random: ReturnType<typeof randomSource>) {
  const ohm = trueOhm(150 * Math.exp(4 * random.uniform()), 0.85 + 0.3 * random.uniform());
  const count =
    basis === 'assumed' ? 2 + Math.floor(2 * random.uniform()) : 4 + Math.floor(5 * random.uniform());
  const from = 5 + 25 * random.uniform();
  const to = 80 + 25 * random.uniform();
  // Without anything to go by the usual uncertainties are assumed: here they hold.
  const kelvin = basis === 'assumed' ? 0.5 : 0.2 + 0.6 * random.uniform();
  const share = basis === 'assumed' ? 0.005 : 0.003 + 0.01 * random.uniform();
  const points = Array.from({ length: count }, (_, i): SenderPoint => {
    const celsius = from + ((to - from) * i) / (count - 1);
    const point = {
      value: celsius + kelvin * random.normal(),
      resistanceOhm: ohm(celsius) * (1 + share * random.normal()),
    };
    if (basis !== 'given') return point;
    return { ...point, valueUncertainty: kelvin, resistanceUncertaintyOhm: share * ohm(celsius) };
  });
  return { ohm, from, to, points };
}
