import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import vectors from '../../vectors/networks.json';
import type { Pair, Solved, SolveRefusal, Topology } from '../../../host/core/network';
import { plain } from '../../../host/words/notation';
import { saidRefusal } from '../../../host/words/refusal';
import { gaugeShuntDemand, networkOf, seenOhm, solveNetwork } from '../../../host/core/network';
import { curvatureOf, threeResistor } from '../../../host/core/network/closed-form/three-point';
import { randomSource } from '../../../host/core/numeric/random';
import { anyOhm } from './arbitraries';

const pair = ([senderOhm, wantedOhm]: readonly number[]): Pair => ({
  senderOhm: senderOhm!,
  wantedOhm: wantedOhm!,
});
const pairs = (rows: readonly (readonly number[])[]): readonly Pair[] => rows.map(pair);

const partsOf = (answer: Solved | SolveRefusal, topology: Topology): readonly number[] => {
  if (answer.kind === 'refused') throw new Error(answer.code);
  const found = answer.solutions.find((solution) => solution.topology === topology);
  return found?.parts.map((part) => part.resistanceOhm) ?? [];
};

const refusalOf = (answer: Solved | SolveRefusal): SolveRefusal => {
  if (answer.kind !== 'refused') throw new Error(`not refused: ${JSON.stringify(answer)}`);
  return answer;
};

/** Vitest types its matchers as any; this one is put where a number is expected. */
const near = (value: number): unknown => expect.closeTo(value, 9);

const expectRefusal = (answer: Solved | SolveRefusal, code: string, says: string | RegExp): void => {
  const refusal = refusalOf(answer);
  expect(refusal.code).toBe(code);
  expect(saidRefusal(refusal, plain)).toMatch(says);
};

describe('one point', () => {
  it.each(vectors.published.shunt_for_one_point)('is met by a shunt: $what', (row) => {
    const answer = solveNetwork([{ senderOhm: row.sender_ohm, wantedOhm: row.wanted_ohm }]);
    expect(partsOf(answer, 'shunt')[0]).toBeCloseTo(row.shunt_ohm, 5);
    for (const stock of row.with_stock)
      expect(seenOhm(networkOf('shunt', [stock.shunt_ohm]), row.sender_ohm)).toBeCloseTo(stock.seen_ohm, 2);
  });

  it('leaves the middle of a shunted fuel sender wrong, as the published answer does', () => {
    const { sender_ohm, shunt_ohm, seen_ohm, wanted_ohm, reads_percent } =
      vectors.published.fuel_sender_middle;
    const seen = seenOhm(networkOf('shunt', [shunt_ohm]), sender_ohm);
    expect(seen).toBeCloseTo(seen_ohm, 3);
    expect(Math.round((100 * seen) / 90)).toBe(reads_percent);
    expect(seen).toBeGreaterThan(wanted_ohm);
  });

  it('agrees with two parts measured together', () => {
    const { first_ohm, second_ohm, seen_ohm } = vectors.published.two_measured_parts;
    expect(seenOhm(networkOf('shunt', [second_ohm]), first_ohm)).toBeCloseTo(seen_ohm, 2);
  });

  it('is met by a series resistor, or by nothing', () => {
    expect(partsOf(solveNetwork([pair([70, 90])]), 'series')).toEqual([20]);
    expect(solveNetwork([pair([70, 70])])).toMatchObject({ solutions: [{ topology: 'none' }] });
  });

  it('refuses a resistor below nothing and says what else would do', () => {
    expectRefusal(
      solveNetwork([pair([70, 50])], 'series'),
      'NEGATIVE_PART',
      /-20 ohm.*in series, resistance only rises/,
    );
    expect(refusalOf(solveNetwork([pair([50, 70])], 'shunt'))).toMatchObject({ code: 'NEGATIVE_PART' });
    expect(refusalOf(solveNetwork([pair([50, 0])], 'shunt'))).toMatchObject({ code: 'NEGATIVE_PART' });
    expect(refusalOf(solveNetwork([pair([50, 0])]))).toMatchObject({ code: 'NEGATIVE_PART' });
  });

  it('multiplies the sender by a resistor across a gauge of known resistance', () => {
    expect(partsOf(solveNetwork([pair([40, 60])], 'gauge-shunt', 58), 'gauge-shunt')).toEqual([116]);
  });
});

describe('two points', () => {
  it.each(vectors.two_points)('are met by both two-resistor networks: $what', (row) => {
    const answer = solveNetwork(pairs(row.pairs));
    const first = partsOf(answer, 'shunt-then-series');
    const second = partsOf(answer, 'series-then-shunt');
    row.shunt_then_series.forEach((ohm, index) =>
      expect(Math.abs(first[index]! / ohm - 1)).toBeLessThan(3e-4),
    );
    row.series_then_shunt.forEach((ohm, index) =>
      expect(Math.abs(second[index]! / ohm - 1)).toBeLessThan(3e-4),
    );
    const { sender_ohm, shunt_then_series_ohm, series_then_shunt_ohm } = row.middle;
    expect(seenOhm(networkOf('shunt-then-series', first), sender_ohm)).toBeCloseTo(shunt_then_series_ohm, 2);
    expect(seenOhm(networkOf('series-then-shunt', second), sender_ohm)).toBeCloseTo(series_then_shunt_ohm, 2);
  });

  it('say how little freedom is left in the middle', () => {
    const answer = solveNetwork(
      pairs([
        [100, 60],
        [25, 30],
      ]),
    );
    if (answer.kind === 'refused') throw new Error(answer.code);
    expect(answer.middle?.senderOhm).toBe(50);
    expect(answer.middle?.lowestOhm).toBeCloseTo(42.62348, 5);
    expect(answer.middle?.highestOhm).toBeCloseTo(43.33333, 5);
  });

  it.each(vectors.impossible)('are refused with $code: $what', (row) => {
    for (const topology of [undefined, 'shunt-then-series', 'series-then-shunt'] as const)
      expect(refusalOf(solveNetwork(pairs(row.pairs), topology)).code).toBe(row.code);
  });

  it.each(vectors.impossible.filter((row) => row.gauge_shunt))(
    'know what a resistor across the gauge would do: $what',
    (row) => {
      const [first, second] = pairs(row.pairs);
      const [high, low] = first!.senderOhm > second!.senderOhm ? [first!, second!] : [second!, first!];
      const demand = gaugeShuntDemand(high, low);
      expect(demand.gain).toBeCloseTo(row.gauge_shunt!.gain, 4);
      expect(demand.seriesOhm).toBeCloseTo(row.gauge_shunt!.series_ohm, 3);
      expect(demand.shuntPerGauge).toBeCloseTo(row.gauge_shunt!.shunt_per_gauge, 4);
    },
  );

  it('are met through a two-terminal gauge where that can be built, and refused where it cannot', () => {
    const reproduction = pairs([
      [190, 300],
      [50, 100],
    ]);
    expect(
      partsOf(solveNetwork(reproduction, 'gauge-shunt', 60), 'gauge-shunt').map((ohm) =>
        Number(ohm.toFixed(9)),
      ),
    ).toEqual([140, 20]);
    expectRefusal(solveNetwork(reproduction, 'gauge-shunt'), 'GAUGE_OHM', '2.333');
    expect(
      refusalOf(
        solveNetwork(
          pairs([
            [70, 240],
            [10, 33],
          ]),
          'gauge-shunt',
          60,
        ),
      ),
    ).toMatchObject({
      code: 'NEGATIVE_PART',
      slots: { part: 'series-beside-gauge-shunt', partOhm: near(-10 / 23) },
    });
    expect(
      refusalOf(
        solveNetwork(
          pairs([
            [100, 60],
            [25, 30],
          ]),
          'gauge-shunt',
          60,
        ),
      ).code,
    ).toBe('SPAN_OHM');
    expect(
      refusalOf(
        solveNetwork(
          pairs([
            [0, 450],
            [100, 100],
          ]),
          'gauge-shunt',
          60,
        ),
      ).code,
    ).toBe('SENSE');
  });

  it('degenerate into one resistor where that is exact', () => {
    expect(
      partsOf(
        solveNetwork(
          pairs([
            [100, 120],
            [30, 50],
          ]),
        ),
        'series',
      ),
    ).toEqual([20]);
    expect(
      partsOf(
        solveNetwork(
          pairs([
            [100, 50],
            [25, 20],
          ]),
        ),
        'shunt',
      )[0],
    ).toBeCloseTo(100, 9);
    expect(
      solveNetwork(
        pairs([
          [100, 100],
          [25, 25],
        ]),
      ),
    ).toMatchObject({ solutions: [{ topology: 'none' }] });
  });

  it('are refused by one resistor that meets only one of them', () => {
    expect(
      refusalOf(
        solveNetwork(
          pairs([
            [100, 120],
            [30, 40],
          ]),
          'series',
        ),
      ),
    ).toMatchObject({
      code: 'MISMATCH',
      slots: { senderOhm: 30, seenOhm: 50, wantedOhm: 40 },
    });
    expect(
      refusalOf(
        solveNetwork(
          pairs([
            [100, 120],
            [30, 40],
          ]),
          'none',
        ),
      ).code,
    ).toBe('MISMATCH');
  });

  it('do not fix a network of three resistors', () => {
    expect(
      refusalOf(
        solveNetwork(
          pairs([
            [100, 60],
            [25, 30],
          ]),
          'three-resistor',
        ),
      ).code,
    ).toBe('PAIRS');
  });

  it('may begin at a shorted sender', () => {
    const answer = solveNetwork(
      pairs([
        [0, 5],
        [180, 95],
      ]),
    );
    expect(partsOf(answer, 'shunt-then-series')).toEqual([5, 180]);
  });
});

describe('three points', () => {
  const row = vectors.forward.find(({ topology }) => topology === 'three-resistor')!;

  it('return the network they were made from', () => {
    const parts = partsOf(solveNetwork(pairs(row.seen)), 'three-resistor');
    row.parts_ohm.forEach((ohm, index) => expect(parts[index]).toBeCloseTo(ohm, 5));
    const [first, second, third] = pairs(row.seen);
    expect(curvatureOf([first!, second!, third!])).toBeCloseTo(0.5, 6);
  });

  it('name the negative resistor of an infeasible demand', () => {
    const [first, second, third] = pairs(vectors.three_points_infeasible.pairs);
    expect(threeResistor([first!, second!, third!]).gaugeSideOhm).toBeCloseTo(
      vectors.three_points_infeasible.gauge_side_ohm,
      1,
    );
    expectRefusal(solveNetwork([first!, second!, third!]), 'NEGATIVE_PART', '-15.3');
  });

  it('are refused when they bend the wrong way', () => {
    expect(
      refusalOf(
        solveNetwork(
          pairs([
            [100, 190],
            [50, 145],
            [25, 124],
          ]),
        ),
      ),
    ).toMatchObject({ code: 'CONCAVITY' });
  });

  it('are refused by the two-point theorems first', () => {
    expect(
      refusalOf(
        solveNetwork(
          pairs([
            [70, 240],
            [40, 130],
            [10, 33],
          ]),
        ),
      ).code,
    ).toBe('SPAN_OHM');
    expect(
      refusalOf(
        solveNetwork(
          pairs([
            [100, 60],
            [50, 70],
            [25, 30],
          ]),
        ),
      ).code,
    ).toBe('SENSE');
  });

  it('that lie on a two-resistor network are met by that network', () => {
    expect(
      partsOf(
        solveNetwork(
          pairs([
            [100, 60],
            [50, 10 + 100 / 3],
            [25, 30],
          ]),
        ),
        'shunt-then-series',
      ).map((ohm) => Number(ohm.toFixed(6))),
    ).toEqual([10, 100]);
    expect(
      partsOf(
        solveNetwork(
          pairs([
            [100, 48],
            [60, 40],
            [20, 80 / 3],
          ]),
        ),
        'series-then-shunt',
      ).map((ohm) => Number(ohm.toFixed(6))),
    ).toEqual([20, 80]);
    expect(
      partsOf(
        solveNetwork(
          pairs([
            [100, 60],
            [50, 130 / 3],
            [25, 30],
          ]),
          'shunt-then-series',
        ),
        'shunt-then-series',
      ),
    ).toHaveLength(2);
    expect(
      refusalOf(
        solveNetwork(
          pairs([
            [100, 60],
            [50, 43],
            [25, 30],
          ]),
          'shunt-then-series',
        ),
      ).code,
    ).toBe('MISMATCH');
  });
});

describe('the question', () => {
  it.each([
    ['no pairs', [], 'PAIRS'],
    [
      'four pairs',
      [
        [1, 2],
        [2, 3],
        [3, 4],
        [4, 5],
      ],
      'PAIRS',
    ],
    ['a negative resistance', [[-1, 2]], 'PAIR_VALUE'],
    ['a value that is no number', [[10, Number.NaN]], 'PAIR_VALUE'],
    ['an endless value', [[Infinity, 10]], 'PAIR_VALUE'],
    [
      'one sender value twice',
      [
        [10, 20],
        [10, 30],
      ],
      'PAIR_SAME',
    ],
    [
      'one wanted value twice',
      [
        [10, 20],
        [20, 20],
      ],
      'PAIR_SAME',
    ],
  ] as const)('is refused for %s', (_, rows, code) => {
    expect(refusalOf(solveNetwork(pairs(rows))).code).toBe(code);
  });

  it('is answered in the order the pairs were given', () => {
    const answer = solveNetwork(
      pairs([
        [25, 30],
        [100, 60],
      ]),
    );
    if (answer.kind === 'refused') throw new Error(answer.code);
    expect(answer.solutions[0]!.seen.map((each) => each.senderOhm)).toEqual([25, 100]);
  });
});

/** How far a double's rounding of the wanted values can move a part: ratio of spans to resistances, squared. */
const conditionOf = (high: Pair, low: Pair): number => {
  const lostOhm = high.senderOhm - low.senderOhm - (high.wantedOhm - low.wantedOhm);
  const size = high.senderOhm + high.wantedOhm;
  return (
    (size / (high.senderOhm - low.senderOhm)) * (size / (high.wantedOhm - low.wantedOhm)) * (size / lostOhm)
  );
};

/** The theorem was found on 200,000 trials; a tenth keeps the suite quick. */
const TRIALS = 20_000;

describe('closed forms', () => {
  it.each(['shunt-then-series', 'series-then-shunt'] as const)(
    'return a %s network from what it makes of two senders, up to 1 Mohm and for near points',
    (topology) => {
      fc.assert(
        fc.property(
          anyOhm(),
          anyOhm(),
          anyOhm(),
          fc.double({ min: 1.001, max: 100, noNaN: true }),
          (series, shunt, low, ratio) => {
            const network = networkOf(topology, [series, shunt]);
            const rows = [low, low * ratio].map((ohm) => ({
              senderOhm: ohm,
              wantedOhm: seenOhm(network, ohm),
            }));
            const tolerance = 64 * Number.EPSILON * conditionOf(rows[1]!, rows[0]!);
            fc.pre(tolerance < 1e-3 && tolerance > 0);
            const answer = solveNetwork(rows, topology);
            if (answer.kind === 'refused') throw new Error(answer.code);
            fc.pre(answer.solutions[0]!.topology === topology);
            for (const each of answer.solutions[0]!.seen)
              expect(Math.abs(each.seenOhm / each.wantedOhm - 1)).toBeLessThan(1e-9);
            const largest = Math.max(series, shunt);
            answer.solutions[0]!.parts.forEach((part, index) =>
              expect(Math.abs(part.resistanceOhm - [series, shunt][index]!)).toBeLessThan(
                largest * tolerance + 1e-9,
              ),
            );
          },
        ),
        { numRuns: 2000 },
      );
    },
  );

  it('exist exactly when the theorems allow: same answer for both networks and for the signs of their parts', () => {
    const random = randomSource(20);
    const ohm = (): number => 10 ** (7 * random.uniform() - 1);
    let possible = 0;
    for (let trial = 0; trial < TRIALS; trial += 1) {
      const [high, low] = [ohm(), ohm()].sort((one, other) => other - one);
      const rows = [
        { senderOhm: high!, wantedOhm: ohm() },
        { senderOhm: low!, wantedOhm: ohm() },
      ] as const;
      const answers = [solveNetwork(rows, 'shunt-then-series'), solveNetwork(rows, 'series-then-shunt')];
      const [D, d] = [rows[0].wantedOhm - rows[1].wantedOhm, high! - low!];
      const allowed = D > 0 && D <= d && D * high! * low! <= d * rows[0].wantedOhm * rows[1].wantedOhm;
      expect(answers.map(({ kind }) => kind === 'solved')).toEqual([allowed, allowed]);
      const parts = answers.flatMap((answer) => (answer.kind === 'solved' ? answer.solutions[0]!.parts : []));
      expect(parts.every((part) => part.resistanceOhm > 0)).toBe(true);
      possible += allowed ? 1 : 0;
    }
    expect(possible).toBeGreaterThan(TRIALS / 20);
  });

  it('fix the middle: every three-resistor network through both ends lies between the two-resistor ones', () => {
    let looked = 0;
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0, max: 3, noNaN: true }), { minLength: 6, maxLength: 6 }),
        (decades) => {
          const [a, p, b, low, up, at] = decades.map((decade) => 10 ** decade);
          const high = low! * (1 + up!);
          const middle = low! * (high / low!) ** (Math.log10(at!) / 3);
          const network = networkOf('three-resistor', [a!, p!, b!]);
          const rows = [high, low!].map((ohm) => ({ senderOhm: ohm, wantedOhm: seenOhm(network, ohm) }));
          const answer = solveNetwork(rows);
          if (answer.kind === 'refused' || answer.solutions.length < 2) return;
          looked += 1;
          const bounds = answer.solutions.map((solution) => seenOhm(solution, middle));
          const slack = 1e-7 * high;
          expect(seenOhm(network, middle)).toBeGreaterThanOrEqual(Math.min(...bounds) - slack);
          expect(seenOhm(network, middle)).toBeLessThanOrEqual(Math.max(...bounds) + slack);
        },
      ),
      { numRuns: 3000 },
    );
    expect(looked).toBeGreaterThan(2000);
  });

  it('return a three-resistor network from what it makes of three senders', () => {
    fc.assert(
      fc.property(fc.tuple(anyModest(), anyModest(), anyModest(), anyModest()), ([a, p, b, low]) => {
        const network = networkOf('three-resistor', [a, p, b]);
        const rows = [low * 9, low * 3, low].map((ohm) => ({
          senderOhm: ohm,
          wantedOhm: seenOhm(network, ohm),
        }));
        const answer = solveNetwork(rows);
        if (answer.kind === 'refused') throw new Error(answer.code);
        for (const each of answer.solutions[0]!.seen)
          expect(Math.abs(each.seenOhm / each.wantedOhm - 1)).toBeLessThan(1e-8);
      }),
      { numRuns: 2000 },
    );
  });
});

/** 5 to 500 ohm: parts as they occur, so that three points are well conditioned. */
const anyModest = (): fc.Arbitrary<number> =>
  fc.double({ min: 0.7, max: 2.7, noNaN: true }).map((decade) => 10 ** decade);
