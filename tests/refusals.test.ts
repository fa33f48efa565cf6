import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { factorFound, factorInStill } from '../host/core/at-work';
import { fitCurve, readingAt } from '../host/core/curve';
import { observationsOf } from '../host/core/curve/readings/observations';
import { preparedContext } from '../host/core/curve/readings/prepare';
import { fitSpline } from '../host/core/curve/spline/fit-spline';
import { rankCurves } from '../host/core/identify/rank';
import { heatFor } from '../host/core/network/search/heat-of-circuit';
import { fitSender } from '../host/core/sender';
import { substitutionAt } from '../host/job/proof/substitution';
import type { Gauge } from '../host/job/schema/gauge';
import { senderFinding } from '../host/server/findings/sender-finding';
import { refusalWords } from '../host/words/refusal';
import { remarkWords } from '../host/words/remark';
import { thermistor } from './core/network/curves';
import { answered, refusalCode } from './support/answer';

const root = fileURLToPath(new URL('..', import.meta.url));
const CODES = 'host/words/CODES.md';
const isUpdating = process.env.UPDATE_DOCUMENTS === '1';

const testTexts = readdirSync(join(root, 'tests'), { recursive: true, encoding: 'utf8' })
  .filter((name) => /\.tsx?$/.test(name) && !name.includes('node_modules'))
  .map((name) => readFileSync(join(root, 'tests', name), 'utf8'))
  .join('\n');

const isSaidByATest = (code: string): boolean => new RegExp(`\\b${code}\\b`).test(testTexts);

const table = (): string =>
  [
    '# Refusals of the core',
    '',
    'Codes are stable: a program may test for them. What was measured, and the limit, stand in the sentence; here is',
    'what to do. Written from `host/words/refusal/` by `tests/refusals.test.ts` (`UPDATE_DOCUMENTS=1`).',
    '',
    '| Code | What to do |',
    '| --- | --- |',
    ...Object.entries(refusalWords)
      .sort(([one], [other]) => (one < other ? -1 : 1))
      .map(([code, { remedy }]) => `| \`${code}\` | ${remedy || 'the sentence says it'} |`),
    '',
  ].join('\n');

describe('the refusals of the core', () => {
  const codes = Object.keys(refusalWords);

  it('are each met by some test', () => {
    expect(codes.length).toBeGreaterThan(90);
    expect(codes.filter((code) => !isSaidByATest(code))).toEqual([]);
  });

  it('say what to do in one or two plain sentences', () => {
    const wrong = Object.entries(refusalWords).filter(
      ([, { remedy }]) =>
        remedy !== '' && !(/^[A-Z]/.test(remedy) && remedy.endsWith('.') && remedy.length < 140),
    );
    expect(wrong.map(([code]) => code)).toEqual([]);
  });

  it('stand in a table (UPDATE_DOCUMENTS=1 writes it anew)', () => {
    if (isUpdating) writeFileSync(join(root, CODES), table());
    expect(readFileSync(join(root, CODES), 'utf8')).toBe(table());
  });

  it('and its remarks, each met by some test, have names of their own', () => {
    expect(Object.keys(remarkWords).filter((code) => !isSaidByATest(code))).toEqual([]);
    expect(Object.keys(remarkWords).filter((code) => codes.includes(code))).toEqual([]);
  });
});

const readings = [10, 20, 40, 80, 160].map((resistanceOhm, i) => ({
  resistanceOhm,
  reading: 10 * i + i * i,
}));
const points = (values: readonly number[], ohms: readonly number[]) =>
  values.map((value, i) => ({ value, resistanceOhm: ohms[i] ?? NaN }));
const fuelDial: Gauge = {
  quantity: 'fuel',
  unit: '%',
  mechanism: 'unknown',
  marks: [
    { label: 'E', reading: 0, angleFraction: 0 },
    { label: 'F', reading: 100, angleFraction: 1 },
  ],
};
const task = {
  ...{ kind: 'sender' as const, senderId: 's', gauge: fuelDial, model: undefined },
  ...{ tolerancePercent: undefined, currents: [] },
};
const heating = {
  value: 400,
  low: { microamp: 500, resistanceOhm: 200, uncertaintyOhm: 0.1 },
  high: { microamp: 10_000, resistanceOhm: 199, uncertaintyOhm: 0.1 },
  onFraction: 1,
} as const;

describe('a refusal that no other test meets', () => {
  it('CURVE_TOO_FAR: a short, by a curve with no law that goes on to it', () => {
    const curve = answered(fitCurve(readings, { law: 'monotone-spline' }));
    expect(refusalCode(readingAt(curve, 0))).toBe('CURVE_TOO_FAR');
  });

  it('FIT_TOO_MANY_KNOTS: no curve goes through each of 501 resistances, and the others are tried', () => {
    const many = Array.from({ length: 501 }, (_, i) => ({ resistanceOhm: 10 * 1.01 ** i, reading: i }));
    const { candidates } = answered(fitCurve(many));
    expect(candidates.find(({ name }) => name === 'interpolant')).toMatchObject({
      code: 'FIT_TOO_MANY_KNOTS',
      slots: { knotCount: 501 },
    });
  });

  it('SPLINE_SINGULAR: readings of which none is believed fix no curve', () => {
    const context = preparedContext(answered(observationsOf(readings, {})), []);
    const blind = { ...context, weights: context.weights.map(() => NaN) };
    expect(refusalCode(fitSpline(blind))).toBe('SPLINE_SINGULAR');
  });

  it('IDENTIFY_TOO_MANY: more curves than a catalogue has', () => {
    const curve = {
      ...{ id: 'a', from: 0, to: 1, sharedUncertainty: 0 },
      expected: () => 1,
      uncertainty: () => 0,
    };
    const observation = { argument: 0.5, observed: 1, argumentUncertainty: 0.1, observedUncertainty: 0.1 };
    expect(
      refusalCode(
        rankCurves(
          [observation],
          Array.from({ length: 100_001 }, () => curve),
        ),
      ),
    ).toBe('IDENTIFY_TOO_MANY');
  });

  it('SENDER_TOO_MANY_POINTS: a list that no bath yields', () => {
    const many = Array.from({ length: 10_001 }, (_, i) => ({ value: i, resistanceOhm: 1 + i }));
    expect(refusalCode(fitSender(many, { unit: '%' }))).toBe('SENDER_TOO_MANY_POINTS');
  });

  it('SENDER_SHORT_OF_DANGER: a curve that ends before the empty mark', () => {
    const sender = answered(fitSender(points([60, 70, 80], [40, 50, 60]), { unit: '%', model: 'table' }));
    expect(refusalCode(substitutionAt(fuelDial, 's', { sender, atWork: undefined }))).toBe(
      'SENDER_SHORT_OF_DANGER',
    );
  });

  it('HEATING_UNIT and HEATING_NO_CURVE: two currents through what is no thermistor with a curve there', () => {
    const level = { ...task, unit: '%', points: points([0, 50, 100], [10, 50, 90]), heating };
    expect(senderFinding(level).heating).toMatchObject({ code: 'HEATING_UNIT' });
    const rising = { ...task, unit: 'degC', points: points([20, 60, 100], [100, 120, 140]), heating };
    expect(senderFinding(rising).heating).toMatchObject({ code: 'HEATING_NO_CURVE' });
  });

  it('SENDER_RUNS_AWAY: a hot thermistor on stiff volts, which more heat only makes hungrier', () => {
    const band = { from: 20, to: 120 };
    const sender = thermistor(700, 3800);
    const places = [20, 70, 120].map((value) => ({ value, coldOhm: sender.ohm(value) }));
    const dissipation = factorFound(0.001, undefined, 'typed');
    const options = { lead: { volt: 100, ohm: 0.01 }, dissipation };
    const heat = heatFor(options, sender, { band, places, values: Float64Array.from([10]) });
    expect(heat).toMatchObject({ code: 'SENDER_RUNS_AWAY', slots: { unit: 'degC' } });
  });

  it('IN_PLACE_NO_TEMPERATURE: a level sender sheds nothing that matters', () => {
    const sender = { ...thermistor(700, 3800), quantity: 'fuel', unit: '%' } as const;
    const volts = [1, 5, 20, 60, 120, 300].map((second) => ({
      second,
      senderVolt: 4 - 0.5 * (1 - Math.exp(-second / 30)),
    }));
    expect(refusalCode(factorInStill(volts, { source: { volt: 10, ohm: 60 }, sender }))).toBe(
      'IN_PLACE_NO_TEMPERATURE',
    );
  });
});
