import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { identifyGauge, identifySender, type NamedSender } from '../../../host/core/identify';
import { randomSource } from '../../../host/core/numeric/random';
import type { GaugeResponse } from '../../../host/core/response';
import { fitSender, senderResponse, type SenderPoint } from '../../../host/core/sender';
import { answered, refusalCode } from '../../support/answer';

/** Families as they are in circulation, thinned to three or five points each: common practice, no source. */
const families: Record<string, [number[], number[]]> = {
  'low ohm, 38 to 149 degC': [
    [37.8, 65.6, 93.3, 121.1, 148.9],
    [450, 158.2, 64.3, 29.5, 14.96],
  ],
  'high ohm, 38 to 127 degC': [
    [37.8, 80, 126.7],
    [1305, 225, 49.5],
  ],
  'flat, 50 to 130 degC': [
    [50, 90, 130],
    [320.5, 96, 36.1],
  ],
  'engine controller class': [
    [0, 40, 80, 120],
    [6000, 1110, 290, 100],
  ],
};
const known: NamedSender[] = Object.entries(families).map(([id, [values, ohms]]) => ({
  id,
  response: answered(
    senderResponse(
      answered(
        fitSender(
          values.map((value, i) => ({ value, resistanceOhm: ohms[i]! })),
          { unit: 'degC' },
        ),
      ),
    ),
  ),
}));
const byId = (id: string) => known.find((each) => each.id === id)!.response;
const anyFamily = fc.constantFrom(...known.map(({ id }) => id));

const measured = (id: string, values: readonly number[], factor = 1): SenderPoint[] =>
  values.map((value) => ({
    value,
    resistanceOhm: factor * byId(id).ohm(value),
    valueUncertainty: 0.5,
    resistanceUncertaintyOhm: 0.01 * byId(id).ohm(value),
  }));

const pointer = (scale: number, change: Partial<GaugeResponse> = {}): GaugeResponse => ({
  quantity: 'fuel',
  unit: '%',
  measuredFromOhm: 5,
  measuredToOhm: 300,
  lowestReading: 0,
  highestReading: 100,
  risesWithResistance: true,
  plateaus: [],
  reading: (ohm) => (100 * Math.min(ohm, 1e9)) / (Math.min(ohm, 1e9) + scale),
  readingUncertainty: () => 0.5,
  ...change,
});

describe('which known sender this is', () => {
  it('names the family of parts up to 8 % off it, from three points with reading errors', () => {
    const random = randomSource(1);
    let right = 0;
    const trials = 400;
    for (let trial = 0; trial < trials; trial += 1) {
      const { id } = known[trial % known.length]!;
      const exact = measured(id, [60, 80, 100], 1 + 0.08 * (2 * random.uniform() - 1));
      const points = exact.map((point) => ({
        ...point,
        value: point.value + 0.5 * random.normal(),
        resistanceOhm: point.resistanceOhm * (1 + 0.01 * random.normal()),
      }));
      const found = answered(identifySender(points, 'degC', known));
      if (found.ranking[0]!.id === id && !found.ranking[0]!.isContradicted) right += 1;
    }
    expect(right / trials).toBeGreaterThan(0.97);
  });

  it('ranks by how likely the points are, with shares that sum to one', () => {
    fc.assert(
      fc.property(anyFamily, fc.double({ min: 0.9, max: 1.1, noNaN: true }), (id, factor) => {
        const { ranking } = answered(identifySender(measured(id, [50, 90], factor), 'degC', known));
        expect(ranking.reduce((sum, each) => sum + each.probability, 0)).toBeCloseTo(1, 9);
        expect(ranking.every((each, i) => i === 0 || each.probability <= ranking[i - 1]!.probability)).toBe(
          true,
        );
      }),
    );
  });

  it('does not mind the order of points or of curves', () => {
    fc.assert(
      fc.property(anyFamily, (id) => {
        const points = measured(id, [50, 70, 95], 1.04);
        const one = answered(identifySender(points, 'degC', known));
        const other = answered(identifySender([...points].reverse(), 'degC', [...known].reverse()));
        expect(other.ranking.map((each) => each.id)).toEqual(one.ranking.map((each) => each.id));
        expect(other.ranking[0]!.chiSquared).toBeCloseTo(one.ranking[0]!.chiSquared, 6);
      }),
    );
  });

  it('takes a shift that all points share for the tolerance of the part, and tells it', () => {
    const id = 'low ohm, 38 to 149 degC';
    const shifted = answered(identifySender(measured(id, [60, 80, 100], 1.07), 'degC', known)).ranking[0]!;
    expect(shifted).toMatchObject({ id, isContradicted: false });
    expect(shifted.sharedShift).toBeCloseTo(Math.log(1.07), 1);
    const bent = measured(id, [60, 80, 100]).map((point, i) => ({
      ...point,
      resistanceOhm: point.resistanceOhm * [1.07, 0.93, 1.07][i]!,
    }));
    expect(answered(identifySender(bent, 'degC', known)).ranking[0]!.isContradicted).toBe(true);
  });

  it('says none when even the best is contradicted', () => {
    const points: SenderPoint[] = [
      { value: 40, resistanceOhm: 50, valueUncertainty: 0.5, resistanceUncertaintyOhm: 0.5 },
      { value: 100, resistanceOhm: 180, valueUncertainty: 0.5, resistanceUncertaintyOhm: 0.5 },
    ];
    expect(answered(identifySender(points, 'degC', known)).verdict).toBe('none');
  });

  it('leaves it open where one point cannot tell, and the next point it proposes can', () => {
    const twins: NamedSender[] = [3600, 4200].map((beta) => {
      const ohm = (t: number): number => 60 * Math.exp(beta * (1 / (t + 273.15) - 1 / 368.15));
      const points = [20, 60, 95].map((value) => ({ value, resistanceOhm: ohm(value) }));
      return {
        id: `beta ${beta}`,
        response: answered(senderResponse(answered(fitSender(points, { unit: 'degC' })))),
      };
    });
    const hot: SenderPoint = {
      value: 95,
      resistanceOhm: 60,
      valueUncertainty: 0.5,
      resistanceUncertaintyOhm: 0.6,
    };
    const first = answered(identifySender([hot], 'degC', twins));
    expect(first.verdict).toBe('open');
    expect(first.next!.argument).toBeLessThan(25);
    expect(first.next!.expectedGain).toBeGreaterThan(10);
    const cold = {
      ...hot,
      value: 20,
      resistanceOhm: twins[1]!.response.ohm(20),
      resistanceUncertaintyOhm: 15,
    };
    const second = answered(identifySender([hot, cold], 'degC', twins));
    expect(second.verdict).toBe('clear');
    expect(second.ranking[0]!.id).toBe('beta 4200');
    expect(second.odds!).toBeGreaterThan(20);
  });

  it('does not propose what tells nothing: twins that differ by a factor within their tolerance stay twins', () => {
    const [base] = known;
    const twin: NamedSender = {
      id: 'twin',
      response: { ...base!.response, ohm: (value) => 1.03 * base!.response.ohm(value) },
    };
    const found = answered(identifySender(measured(base!.id, [60, 100]), 'degC', [base!, twin]));
    expect(found.verdict).toBe('open');
    expect(found.next!.expectedGain).toBeLessThan(2);
  });

  it('counts points beyond what is known of a curve', () => {
    const found = answered(identifySender(measured('flat, 50 to 130 degC', [20, 60]), 'degC', known));
    const flat = found.ranking.find(({ id }) => id.startsWith('flat'))!;
    expect(flat.extrapolatedCount).toBe(1);
  });

  it('works with one curve, with points of no uncertainty at all, and with 0 ohm', () => {
    const fuel = answered(
      senderResponse(
        answered(
          fitSender(
            [
              { value: 0, resistanceOhm: 0 },
              { value: 100, resistanceOhm: 90 },
            ],
            { unit: '%' },
          ),
        ),
      ),
    );
    const points = [{ value: 0, resistanceOhm: 0.1, valueUncertainty: 0, resistanceUncertaintyOhm: 0 }];
    const found = answered(identifySender(points, '%', [{ id: 'fuel', response: fuel }]));
    expect(found).toMatchObject({ odds: null, next: null });
    expect(Number.isFinite(found.ranking[0]!.chiSquared)).toBe(true);
  });
});

describe('which known gauge this is', () => {
  const gauges = [60, 90, 130].map((scale) => ({ id: `scale ${scale}`, response: pointer(scale) }));

  it('names the gauge from three readings', () => {
    const readings = [20, 80, 200].map((resistanceOhm) => ({
      resistanceOhm,
      reading: pointer(90).reading(resistanceOhm) + 0.8,
      readingUncertainty: 1,
    }));
    const found = answered(identifyGauge(readings, '%', gauges));
    expect(found.ranking[0]!.id).toBe('scale 90');
    expect(found.verdict).toBe('clear');
    expect(found.ranking[0]!.sharedShift).toBeGreaterThan(0);
  });

  it('proposes a resistance where the first two differ', () => {
    const readings = [{ resistanceOhm: 8, reading: pointer(90).reading(8), readingUncertainty: 1 }];
    const { next, ranking } = answered(identifyGauge(readings, '%', gauges));
    expect(next!.argument).toBeGreaterThan(30);
    expect(Math.abs(next!.firstExpects - next!.secondExpects)).toBeGreaterThan(4);
    expect(ranking).toHaveLength(3);
  });
});

describe('refusals', () => {
  it('name what is missing or wrong', () => {
    const points = measured('low ohm, 38 to 149 degC', [60]);
    expect(refusalCode(identifySender([], 'degC', known))).toBe('IDENTIFY_NO_POINTS');
    expect(refusalCode(identifySender(points, 'degC', []))).toBe('IDENTIFY_NO_CURVES');
    expect(identifySender(points, 'degF', known)).toMatchObject({
      code: 'IDENTIFY_UNIT',
      slots: { id: known[0]!.id, curveUnit: 'degC', pointsUnit: 'degF' },
    });
    expect(identifySender(points, '', known)).toMatchObject({
      code: 'IDENTIFY_UNIT',
      slots: { pointsUnit: '' },
    });
    expect(
      identifySender(points, 'degC', [{ id: 'bare', response: { ...known[0]!.response, unit: '' } }]),
    ).toMatchObject({ code: 'IDENTIFY_UNIT', slots: { id: 'bare', curveUnit: '' } });
    expect(refusalCode(identifySender([{ value: Number.NaN, resistanceOhm: 5 }], 'degC', known))).toBe(
      'IDENTIFY_POINT',
    );
    expect(
      refusalCode(
        identifyGauge([{ resistanceOhm: -5, reading: 1 }], '%', [{ id: 'a', response: pointer(90) }]),
      ),
    ).toBe('IDENTIFY_POINT');
  });
});
