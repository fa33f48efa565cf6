import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import vectors from '../../vectors/networks.json';
import type { Candidate, Trimmed, TrimOptions, TrimRefused } from '../../../host/core/network';
import { plain } from '../../../host/words/notation';
import { saidRefusal } from '../../../host/words/refusal';
import { saidRemark } from '../../../host/words/remark';
import { networkOf, seenOhm, solveNetwork, topologies, trim } from '../../../host/core/network';
import { randomSource } from '../../../host/core/numeric/random';
import type { GaugeResponse, SenderResponse } from '../../../host/core/response';
import {
  electronicTemperature,
  fallingGauge,
  gaugeFrom,
  linearGauge,
  linearSender,
  thermalTemperature,
  thermistor,
  twoCoilFuel,
} from './curves';

const trimmed = (answer: Trimmed | TrimRefused): Trimmed => {
  if (answer.kind === 'refused') throw new Error(`${answer.code}: ${answer.code}`);
  return answer;
};

const best = (answer: Trimmed | TrimRefused): Candidate => trimmed(answer).candidates[0]!;

const ohms = (candidate: Candidate): readonly number[] => candidate.parts.map((part) => part.resistanceOhm);

/** A gauge that is right with this sender and no network: its dial was drawn for it. */
const gaugeFor = (sender: SenderResponse, lowest: number, highest: number): GaugeResponse => {
  const ends = [sender.ohm(lowest), sender.ohm(highest)];
  const held = (value: number): number => Math.min(highest, Math.max(lowest, value));
  return {
    quantity: sender.quantity,
    unit: sender.unit,
    measuredFromOhm: Math.min(...ends),
    measuredToOhm: Math.max(...ends),
    lowestReading: lowest,
    highestReading: highest,
    risesWithResistance: ends[1]! > ends[0]!,
    plateaus: [],
    reading: (ohm) =>
      held(
        ohm <= 0
          ? ends[1]! > ends[0]!
            ? lowest
            : highest
          : ohm === Infinity
            ? ends[1]! > ends[0]!
              ? highest
              : lowest
            : sender.value(ohm),
      ),
    readingUncertainty: () => 0.5,
  };
};

/** What a network makes of a sender, as if it were a sender. */
const behind = (network: Parameters<typeof seenOhm>[0], sender: SenderResponse): SenderResponse => ({
  ...sender,
  ohm: (value) => seenOhm(network, sender.ohm(value)),
  value: (ohm) => {
    let [low, high] = [sender.knownFrom, sender.knownTo];
    const rises = sender.ohm(high) > sender.ohm(low);
    for (let step = 0; step < 60; step += 1) {
      const middle = (low + high) / 2;
      if (seenOhm(network, sender.ohm(middle)) < ohm === rises) low = middle;
      else high = middle;
    }
    return (low + high) / 2;
  },
});

describe('a gauge that reads 15 degF high at 195 degF, where it wants 110 ohm', () => {
  // Check figures of the trade (common practice, no source): B about 3,900 K, sender a fifth low, about 24 ohm in series.
  const celsius = (fahrenheit: number): number => ((fahrenheit - 32) * 5) / 9;
  const thermistorAt195 = (ohmAt195: number): SenderResponse => {
    const kelvin = (fahrenheit: number): number => celsius(fahrenheit) + 273.15;
    return {
      ...thermistor(1000, 3900),
      unit: 'degF',
      knownFrom: 80,
      knownTo: 260,
      ohm: (fahrenheit) => ohmAt195 * Math.exp(3900 * (1 / kelvin(fahrenheit) - 1 / kelvin(195))),
      value: (ohm) => ((1 / (Math.log(ohm / ohmAt195) / 3900 + 1 / kelvin(195)) - 273.15) * 9) / 5 + 32,
    };
  };
  const original = thermistorAt195(110);
  const gauge = gaugeFor(original, 100, 250);
  const low = thermistorAt195(original.ohm(210));

  it('has a sender that is a fifth low there', () => {
    expect(gauge.reading(low.ohm(195))).toBeCloseTo(210, 6);
    expect(low.ohm(195) / 110 - 1).toBeCloseTo(-0.2, 1);
  });

  it('is cured at that point by about 24 ohm in series', () => {
    const answer = solveNetwork([{ senderOhm: low.ohm(195), wantedOhm: 110 }]);
    expect(answer.kind === 'solved' && answer.solutions[0]!.topology).toBe('series');
    expect(answer.kind === 'solved' && answer.solutions[0]!.parts[0]!.resistanceOhm).toBeCloseTo(24, -0.3);
    const around = best(
      trim(gauge, low, { from: 190, to: 200, topologies: ['series'], ruleLimit: 5, dangerWeight: 1 }),
    );
    expect(ohms(around)).toEqual([24]);
  });
});

describe('a fuel gauge for 240-33 ohm with a 75-10 ohm sender', () => {
  it('reads 79.7 % at true empty, not the 64 % that was published', () => {
    const { gauge_empty_ohm, gauge_full_ohm, sender_empty_ohm, right_percent, published_percent } =
      vectors.published.published_error;
    const shown = fallingGauge('fuel', gauge_empty_ohm, gauge_full_ohm).reading(sender_empty_ohm);
    expect(shown).toBeCloseTo(right_percent, 2);
    expect(Math.abs(shown - published_percent)).toBeGreaterThan(15);
  });
});

describe('the best network', () => {
  it.each([
    ['shunt-then-series', [10, 100]],
    ['series-then-shunt', [22, 82]],
    ['three-resistor', [10, 150, 20]],
    ['series', [33]],
    ['shunt', [330]],
  ] as const)('is the %s %s that the gauge was drawn for', (topology, parts) => {
    const sender = thermistor(900, 3900);
    const gauge = gaugeFor(behind(networkOf(topology, parts), sender), 40, 120);
    const found = best(trim(gauge, sender, { from: 45, to: 115 }));
    expect([found.topology, ohms(found)]).toEqual([topology, parts]);
    expect(found.worstError).toBeLessThan(1e-6);
  });

  it('is no network where the sender is right', () => {
    const sender = thermistor(900, 3900);
    const answer = trimmed(trim(gaugeFor(sender, 40, 120), sender));
    expect(answer.candidates[0]).toMatchObject({ topology: 'none', parts: [], keepsRule: true });
    expect(answer.recommended).toBe(0);
  });

  it.each([
    ['either side counts alike', 1],
    ['reading low in the hottest quarter counts double', undefined],
  ])('is not beaten by any of 3,000 random networks, nor its bound: %s', (_, dangerWeight) => {
    const sender = thermistor(760, 3800);
    const asked = {
      from: 45,
      to: 115,
      ruleLimit: 100,
      ...(dangerWeight === undefined ? {} : { dangerWeight }),
    };
    const answer = trimmed(trim(thermalTemperature, sender, asked));
    const double = dangerWeight ?? 2;
    const random = randomSource(3);
    const { bestScore, anyValueBound } = answer.certificate;
    expect(anyValueBound).toBeLessThanOrEqual(bestScore);
    expect(anyValueBound).toBeGreaterThan(bestScore * 0.8);
    for (let trial = 0; trial < 3000; trial += 1) {
      const topology = topologies[1 + Math.floor(5 * random.uniform())]!;
      const parts = Array.from({ length: 3 }, () => 10 ** (4 * random.uniform()));
      const network = networkOf(topology, parts);
      const errors = Array.from({ length: 61 }, (_, index) => 45 + (70 * index) / 60).map((value) => {
        const error = thermalTemperature.reading(seenOhm(network, sender.ohm(value))) - value;
        return error < 0 && value >= 97.5 ? -double * error : Math.abs(error);
      });
      expect(Math.max(...errors)).toBeGreaterThanOrEqual(anyValueBound);
    }
  });

  // The quarter and the weight of two: common practice, no source.
  it.each([
    ['temperature', 'low', (value: number) => value >= 70],
    ['fuel', 'high', (value: number) => value <= 30],
    ['pressure', 'high', (value: number) => value <= 30],
  ] as const)('of a %s gauge errs less to the %s side where that hurts', (quantity, side, hurts) => {
    const isHot = quantity === 'temperature';
    const gauge = isHot ? fallingGauge(quantity, 180, 10) : linearGauge(quantity, 10, 180);
    // A shape that no resistor can straighten: some error is left everywhere.
    const bend = (value: number): number => 20 + 170 * ((isHot ? 100 - value : value) / 100) ** 1.6;
    const sender: SenderResponse = { ...linearSender(quantity, 20, 190), ohm: bend };
    const asked = {
      from: 10,
      to: 90,
      ruleLimit: 1000,
      maxParts: 2,
      topologies: ['shunt', 'shunt-then-series'],
    } as const;
    const [alike, double] = [{ dangerWeight: 1 }, {}].map((more) =>
      trimmed(trim(gauge, sender, { ...asked, ...more })),
    );
    const dangerous = ({ candidates: [first] }: Trimmed): number =>
      Math.max(
        ...first!.errorTable
          .filter((row) => hurts(row.trueValue))
          .map(({ error }) => (side === 'low' ? -error : error)),
      );
    expect(alike!.rule.danger).toBeUndefined();
    expect(double!.rule.danger).toMatchObject({ side, weight: 2 });
    expect(dangerous(alike!)).toBeGreaterThan(0);
    expect(dangerous(double!)).toBeLessThan(dangerous(alike!));
  });

  it('follows the weights: a hot end that counts ten times errs less', () => {
    const sender = thermistor(760, 3800);
    const options = { from: 45, to: 115, ruleLimit: 100, maxParts: 2 } as const;
    const even = best(trim(thermalTemperature, sender, options));
    const hot = best(
      trim(thermalTemperature, sender, {
        ...options,
        weights: [
          { value: 95, weight: 1 },
          { value: 100, weight: 10 },
        ],
      }),
    );
    const worstHot = (candidate: Candidate): number =>
      Math.max(
        ...candidate.errorTable.filter((row) => row.trueValue >= 100).map((row) => Math.abs(row.error)),
      );
    expect(worstHot(hot)).toBeLessThan(worstHot(even));
    expect(hot.worstWeightedError).toBeGreaterThanOrEqual(10 * worstHot(hot) - 1e-9);
  });

  it('turns a sender in degC into the unit of a gauge in degF', () => {
    const sender = thermistor(900, 3900);
    const celsiusGauge = gaugeFor(sender, 40, 120);
    const fahrenheit = (celsius: number): number => (celsius * 9) / 5 + 32;
    const gauge = {
      ...celsiusGauge,
      unit: 'degF',
      lowestReading: fahrenheit(40),
      highestReading: fahrenheit(120),
      reading: (ohm: number) => fahrenheit(celsiusGauge.reading(ohm)),
    };
    const found = best(trim(gauge, sender));
    expect(found.topology).toBe('none');
    expect(found.worstError).toBeLessThan(1e-6);
    expect(found.errorTable.at(-1)!.trueValue).toBeCloseTo(fahrenheit(120), 6);
  });

  it('is the same whatever the order of the options’ lists, and leaves them as they were', () => {
    const stock = Object.freeze(
      [470, 22, 10, 150, 68].map((resistanceOhm) => Object.freeze({ resistanceOhm })),
    );
    const sender = thermistor(760, 3800);
    const forward = best(trim(thermalTemperature, sender, { stock }));
    const backward = best(trim(thermalTemperature, sender, { stock: [...stock].reverse() }));
    expect(ohms(forward)).toEqual(ohms(backward));
  });
});

describe('parts from a drawer', () => {
  const sender = thermistor(900, 3900);
  const gauge = gaugeFor(behind(networkOf('three-resistor', [47, 150, 47]), sender), 40, 120);
  const stock = (count: number) => [
    { resistanceOhm: 47, count, tolerancePercent: 1 },
    { resistanceOhm: 150, count: 1 },
    { resistanceOhm: 33 },
  ];

  it('are used as often as they are there', () => {
    const found = best(trim(gauge, sender, { from: 45, to: 115, stock: stock(2) }));
    expect(ohms(found)).toEqual([47, 150, 47]);
    expect(found.parts.map((part) => part.tolerancePercent)).toEqual([1, 5, 1]);
  });

  it('are not used oftener', () => {
    const answer = trimmed(trim(gauge, sender, { from: 45, to: 115, stock: stock(1), perTopology: 50 }));
    for (const candidate of answer.candidates)
      for (const part of [47, 150])
        expect(ohms(candidate).filter((ohm) => ohm === part).length).toBeLessThanOrEqual(1);
    expect(
      answer.candidates.some((candidate) => ohms(candidate).filter((ohm) => ohm === 33).length === 2),
    ).toBe(true);
  });
});

describe('the safety rule', () => {
  it('keeps a temperature gauge from reading low at its hot end, at the cost of other errors', () => {
    const answer = trimmed(
      trim(thermalTemperature, thermistor(760, 3800), { from: 45, to: 115, ruleLimit: 2 }),
    );
    const chosen = answer.candidates[0]!;
    expect(chosen.keepsRule).toBe(true);
    for (const row of chosen.errorTable.filter((each) => each.trueValue >= 97.5))
      expect(row.error).toBeGreaterThanOrEqual(-2);
    expect(answer.withoutRule!.worstError).toBeLessThan(chosen.worstError);
    expect(answer.withoutRule!.keepsRule).toBe(false);
    expect(answer.remarks.map(({ code }) => code)).toContain('RULE_COSTS');
  });

  it('keeps an oil gauge from reading high anywhere', () => {
    const answer = trimmed(
      trim(linearGauge('pressure', 10, 180), linearSender('pressure', 3, 240), { ruleLimit: 0.5 }),
    );
    for (const row of answer.candidates[0]!.errorTable) expect(row.error).toBeLessThanOrEqual(0.5);
  });

  it('keeps a fuel gauge from promising fuel near empty', () => {
    const answer = trimmed(
      trim(linearGauge('fuel', 3, 100), linearSender('fuel', 8, 140), { ruleLimit: 0.5, maxParts: 2 }),
    );
    for (const row of answer.candidates[0]!.errorTable.filter((each) => each.trueValue <= 25))
      expect(row.error).toBeLessThanOrEqual(0.5);
  });

  it('is said to be broken when nothing keeps it, and the least breach comes first', () => {
    const answer = trimmed(
      trim(thermalTemperature, thermistor(900, 3900), {
        topologies: ['none', 'series'],
        acceptableError: 80,
      }),
    );
    expect(answer.candidates[0]!.keepsRule).toBe(false);
    expect(answer.candidates[0]!.topology).toBe('none');
    expect(answer.certificate.keepsRule).toBe(false);
    expect(answer.remarks.map(({ code }) => code)).toContain('RULE_NOT_KEPT');
  });
});

const refusalOf = (answer: Trimmed | TrimRefused): TrimRefused => {
  if (answer.kind !== 'refused') throw new Error('not refused');
  return answer;
};

describe('a demand that resistors cannot meet', () => {
  it.each([
    ['70-10 sender, 240-33 gauge', fallingGauge('fuel', 240, 33), linearSender('fuel', 70, 10), 'SPAN_OHM'],
    ['0-70 sender, 3-108 gauge', linearGauge('fuel', 3, 108), linearSender('fuel', 0, 70), 'SPAN_OHM'],
    [
      '240-33 sender, 73-10 gauge',
      fallingGauge('fuel', 73, 10),
      linearSender('fuel', 240, 33),
      'SPAN_SIEMENS',
    ],
    ['0-100 sender, 450-100 gauge', fallingGauge('fuel', 450, 100), linearSender('fuel', 0, 100), 'SENSE'],
    ['a much flatter thermistor', thermalTemperature, thermistor(400, 1500), 'RATIO'],
  ] as const)(
    'is refused with its theorem, its figures and the nearest network: %s',
    (_, gauge, sender, code) => {
      const refusal = refusalOf(trim(gauge, sender));
      expect(refusal.code).toBe(code);
      expect(saidRefusal(refusal, plain)).toMatch(/sender gives .* ohm.*gauge wants/);
      expect(refusal.nearest!.worstError).toBeGreaterThan(10);
      expect(refusal.certificate!.bestScore).toBe(refusal.nearest!.worstWeightedError);
    },
  );

  it.each([
    { acceptableError: 49, kind: 'refused' },
    { acceptableError: 51, kind: 'trimmed' },
  ] as const)(
    'against the sense is forbidden only where no single resistance would be near enough for both ends: $acceptableError %',
    ({ acceptableError, kind }) => {
      // Any one resistance errs by half the dial at least, and the half in the middle does no worse.
      const options = { acceptableError, maxParts: 0 } as const;
      const answer = trim(fallingGauge('fuel', 450, 100), linearSender('fuel', 0, 100), options);
      expect(answer.kind).toBe(kind);
      if (answer.kind === 'refused') expect(answer.code).toBe('SENSE');
    },
  );

  it('is met through the gauge where it has two terminals', () => {
    const sender = {
      ...thermistor(1000, 3900),
      ohm: (value: number) => thermistor(1000, 3900).ohm(value) / 2,
    };
    const gauge = gaugeFor(thermistor(1000, 3900), 40, 120);
    const options = { gaugeOhm: 56, terminals: 2, from: 45, to: 115 } as const;
    const found = best(trim(gauge, sender, options));
    expect([found.topology, ohms(found)]).toEqual(['gauge-shunt', [56]]);
    expect(found.warnings.map((each) => saidRemark(each, plain)).join()).toMatch(
      /sender carries up to .* mA instead of/,
    );
  });

  it('is not refused where the best compromise is acceptable', () => {
    const sender = linearSender('fuel', 88, 8);
    expect(trim(fallingGauge('fuel', 73, 10), sender).kind).toBe('trimmed');
    expect(
      trim(fallingGauge('fuel', 240, 33), linearSender('fuel', 70, 10), { acceptableError: 90 }).kind,
    ).toBe('trimmed');
  });
});

describe('a resistor across the gauge', () => {
  const sender = linearSender('fuel', 60, 8);
  const gauge = fallingGauge('fuel', 73, 10);

  it('is refused on fuel when it would raise the tank current', () => {
    const refusal = refusalOf(
      trim(gauge, sender, {
        topologies: ['gauge-shunt'],
        gaugeOhm: 60,
        stock: [{ resistanceOhm: 300 }],
        maxParts: 1,
      }),
    );
    expect(refusal.code).toBe('TANK_CURRENT');
    for (const candidate of trimmed(trim(gauge, sender, { gaugeOhm: 60, terminals: 2, perTopology: 20 }))
      .candidates)
      if (candidate.topology === 'gauge-shunt') {
        const [across, series] = ohms(candidate);
        const loop = (60 * across!) / (60 + across!) + (series ?? 0);
        expect(loop).toBeGreaterThanOrEqual(60 * (1 - 1e-9));
        expect(loop + 8).toBeGreaterThanOrEqual(70 * (1 - 1e-9));
      }
  });

  it.each([
    [{ gaugeOhm: 60, terminals: 3 }, /three terminals/],
    [{ terminals: 2 }, /resistance is not known/],
    [{ gaugeOhm: 60, mechanism: 'two-coil' }, /two-coil gauge has three terminals/],
    [{ gaugeOhm: 60, topologies: ['series'] }, /not asked for/],
  ] as const)('is left out, with the reason, for %j', (options, reason) => {
    const answer = trimmed(
      trim(thermalTemperature, thermistor(900, 4000), { ...options, acceptableError: 90 }),
    );
    expect(answer.candidates.every((candidate) => candidate.topology !== 'gauge-shunt')).toBe(true);
    expect(answer.remarks.map((each) => saidRemark(each, plain)).join()).toMatch(reason);
  });

  it('comes with a warning when nobody has counted the terminals', () => {
    const shunts = (options: TrimOptions): readonly Candidate[] =>
      trimmed(
        trim(thermalTemperature, thermistor(900, 4000), { gaugeOhm: 60, acceptableError: 90, ...options }),
      ).candidates.filter(({ topology }) => topology === 'gauge-shunt');
    expect(
      shunts({}).every(({ warnings }) => warnings.some(({ code }) => code === 'TWO_TERMINALS_NEEDED')),
    ).toBe(true);
    expect(shunts({}).length).toBeGreaterThan(0);
    expect(
      shunts({ terminals: 2 }).some(({ warnings }) =>
        warnings.some(({ code }) => code === 'TWO_TERMINALS_NEEDED'),
      ),
    ).toBe(false);
  });

  it('is searched for thermal and moving-coil gauges of known resistance', () => {
    const options = { gaugeOhm: 60, mechanism: 'thermal', acceptableError: 90 } as const;
    const answer = trimmed(trim(thermalTemperature, thermistor(900, 4000), options));
    expect(answer.candidates.some((candidate) => candidate.topology === 'gauge-shunt')).toBe(true);
  });
});

describe('a question that is none', () => {
  const sender = thermistor(900, 4000);
  const gauge = thermalTemperature;
  const broken = (change: Partial<GaugeResponse>): GaugeResponse => ({ ...gauge, ...change });
  it.each<readonly [string, GaugeResponse, SenderResponse, TrimOptions]>([
    ['BAND', gauge, sender, { from: 100, to: 50 }],
    ['BAND', gauge, sender, { from: Number.NaN }],
    ['BAND', gauge, sender, { from: 300, to: 400 }],
    ['BAND', gauge, sender, { from: -90, to: 0 }],
    ['SAMPLES', gauge, sender, { samples: 1 }],
    ['SAMPLES', gauge, sender, { samples: 20.5 }],
    ['STOCK', gauge, sender, { stock: [] }],
    ['STOCK', gauge, sender, { stock: [{ resistanceOhm: 0 }] }],
    ['STOCK', gauge, sender, { stock: [{ resistanceOhm: 10, count: 0 }] }],
    ['RANGE', gauge, sender, { lowestOhm: 100, highestOhm: 50 }],
    ['TOLERANCE', gauge, sender, { tolerancePercent: -1 }],
    ['WEIGHTS', gauge, sender, { weights: [{ value: 50, weight: -1 }] }],
    ['WEIGHTS', gauge, sender, { weights: [{ value: 50, weight: 0 }] }],
    ['UNIT', gauge, { ...sender, unit: 'kPa' }, {}],
    ['SUPPLY', gauge, sender, { supplyVolt: 0 }],
    ['SUPPLY', gauge, sender, { highestSupplyVolt: Number.NaN }],
    ['GAUGE_OHM', gauge, sender, { gaugeOhm: -5 }],
    ['RULE_LIMIT', gauge, sender, { ruleLimit: -1 }],
    ['TOPOLOGY', gauge, sender, { topologies: ['three-resistor'], maxParts: 1 }],
    ['GAUGE_RANGE', broken({ measuredToOhm: 10, measuredFromOhm: 20 }), sender, {}],
    [
      'GAUGE_NOT_FINITE',
      broken({ reading: (ohm) => (ohm > 100 ? Number.NaN : gauge.reading(ohm)) }),
      sender,
      {},
    ],
    [
      'GAUGE_NOT_MONOTONE',
      broken({ reading: (ohm) => gauge.reading(ohm) + (ohm > 100 && ohm < 120 ? 20 : 0) }),
      sender,
      {},
    ],
    [
      'SENDER_NOT_FINITE',
      gauge,
      { ...sender, ohm: (value) => (value > 100 ? Number.NaN : sender.ohm(value)) },
      {},
    ],
    [
      'SENDER_NOT_MONOTONE',
      gauge,
      { ...sender, ohm: (value) => sender.ohm(value) * (value > 100 ? 2 : 1) },
      {},
    ],
    ['SENDER_NOT_MONOTONE', gauge, { ...sender, ohm: () => 100 }, {}],
  ])('is refused: %s (%#)', (code, theGauge, theSender, options) => {
    expect(refusalOf(trim(theGauge, theSender, options)).code).toBe(code);
  });

  it('is answered with a remark when a unit is not known', () => {
    const answer = trimmed(trim({ ...gauge, unit: 'marks' }, sender, { acceptableError: 90 }));
    expect(answer.remarks.map(({ code }) => code)).toContain('UNIT_TAKEN_AS_SAME');
  });
});

describe('an electronic gauge with a flat zone', () => {
  it('is trimmed as well as it can be, and the zone is spoken of', () => {
    const answer = trimmed(
      trim(electronicTemperature, thermistor(760, 3800), { from: 45, to: 115, acceptableError: 90 }),
    );
    expect(answer.remarks.map(({ code }) => code)).toContain('FLAT_ZONE');
  });
});

const everyNumber = (thing: unknown, path: string): string[] => {
  if (typeof thing === 'number') return Number.isFinite(thing) ? [] : [`${path} = ${thing}`];
  if (typeof thing !== 'object' || thing === null) return [];
  return Object.entries(thing).flatMap(([key, value]) => everyNumber(value, `${path}.${key}`));
};

describe('every number of an answer', () => {
  it('is finite, for any sender and gauge', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 100, max: 4000, noNaN: true }),
        fc.double({ min: 2000, max: 5000, noNaN: true }),
        fc.constantFrom<TrimOptions>(
          {},
          { gaugeOhm: 58, terminals: 2, mechanism: 'thermal', supplyVolt: 10 },
          { mechanism: 'two-coil', maxParts: 1 },
        ),
        (ohmAt25, beta, options) => {
          const answer = trim(thermalTemperature, thermistor(ohmAt25, beta), {
            ...options,
            series: 'E6',
            trials: 20,
            samples: 21,
          });
          expect(everyNumber(answer, 'answer')).toEqual([]);
        },
      ),
      { numRuns: 30 },
    );
  });

  it('is finite for a sender that begins at a short and a gauge at its stop', () => {
    const stopped = gaugeFrom(
      { quantity: 'fuel', unit: '%', lowestReading: 0, highestReading: 100, fromOhm: 5, toOhm: 60 },
      (ohm) => Math.min(60, Math.max(5, ohm)),
    );
    for (const gauge of [twoCoilFuel, stopped])
      expect(
        everyNumber(
          trim(gauge, linearSender('fuel', 0, 90), { gaugeOhm: 60, terminals: 2, acceptableError: 90 }),
          'answer',
        ),
      ).toEqual([]);
  });
});
