import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Candidate, Trimmed, TrimOptions } from '../../../host/core/network';
import { assumedWords, surroundingsWords } from '../../../host/words/network';
import { plain } from '../../../host/words/notation';
import { saidRemark } from '../../../host/words/remark';
import { networkOf, seenOhm, topologies, trim } from '../../../host/core/network';
import { worstErrorAnywhere } from '../../../host/core/network/report/between-samples';
import { partsUncertainty } from '../../../host/core/network/report/error-table';
import { circuitStates, powersIn, worstPowers } from '../../../host/core/network/circuit/power';
import type { GaugeResponse, SenderResponse } from '../../../host/core/response';
import { anyNetwork, anyOhm } from './arbitraries';
import {
  fallingGauge,
  linearGauge,
  linearSender,
  thermalTemperature,
  thermistor,
  twoCoilFuel,
} from './curves';

const bestOf = (gauge: GaugeResponse, sender: SenderResponse, options: TrimOptions): Candidate => {
  const answer = trim(gauge, sender, { acceptableError: 90, ...options });
  if (answer.kind === 'refused') throw new Error(answer.code);
  return answer.candidates[0]!;
};

/** One network, whatever it is worth: the drawer holds nothing else. */
const only = (topology: 'series' | 'shunt', resistanceOhm: number): TrimOptions => ({
  topologies: [topology],
  stock: [{ resistanceOhm }],
});

const hotSender = thermistor(700, 3900);

describe('powers', () => {
  it('add up to what the supply gives', () => {
    fc.assert(
      fc.property(anyNetwork(), anyOhm(), anyOhm(), (network, gaugeOhm, senderOhm) => {
        const { parts, senderWatt } = powersIn(network, { supplyVolt: 12, gaugeOhm }, senderOhm);
        const current = 12 / (gaugeOhm + seenOhm(network, senderOhm));
        const inGauge = current ** 2 * gaugeOhm;
        const sum = parts.reduce((total, each) => total + each, senderWatt + inGauge);
        expect(sum / (12 * current)).toBeCloseTo(1, 9);
      }),
    );
  });

  it('of a resistor across the gauge and of everything else add up too', () => {
    fc.assert(
      fc.property(anyOhm(), anyOhm(), anyOhm(), anyOhm(), (gaugeOhm, across, series, senderOhm) => {
        const network = networkOf('gauge-shunt', [across, series], gaugeOhm);
        const { parts, senderWatt, senderMilliamp } = powersIn(
          network,
          { supplyVolt: 12, gaugeOhm },
          senderOhm,
        );
        const branch = (gaugeOhm * across) / (gaugeOhm + across);
        const current = 12 / (branch + series + senderOhm);
        expect(senderMilliamp / 1000 / current).toBeCloseTo(1, 9);
        const inGauge = (current * branch) ** 2 / gaugeOhm;
        expect((parts[0]! + parts[1]! + senderWatt + inGauge) / (12 * current)).toBeCloseTo(1, 9);
      }),
    );
  });

  it('of the sender are its current squared times its resistance', () => {
    fc.assert(
      fc.property(anyNetwork(), anyOhm(), anyOhm(), (network, gaugeOhm, senderOhm) => {
        const { senderWatt, senderMilliamp } = powersIn(network, { supplyVolt: 12, gaugeOhm }, senderOhm);
        expect(senderWatt).toBeCloseTo((senderMilliamp / 1000) ** 2 * senderOhm, 9);
      }),
    );
  });

  it('are nothing with the sender open, and finite with anything shorted or open', () => {
    const feed = { supplyVolt: 16, gaugeOhm: 50 };
    expect(powersIn(networkOf('series', [24]), feed, Infinity)).toEqual({
      parts: [0],
      senderWatt: 0,
      senderMilliamp: 0,
    });
    for (const topology of topologies)
      for (const part of [0, 10, Infinity])
        for (const sender of [0, 10, Infinity]) {
          const network = networkOf(topology, [part, part, part], 50);
          const powers = powersIn(network, feed, sender);
          expect([...powers.parts, powers.senderWatt, powers.senderMilliamp].every(Number.isFinite)).toBe(
            true,
          );
        }
  });

  it('are worst in the state that is named', () => {
    // 24 ohm behind a 58 ohm gauge: 16 V over 82 ohm with the sender shorted, 0.195 A, 0.914 W.
    const states = circuitStates([40, 400], [{ supplyVolt: 16, gaugeOhm: 58 }]);
    const [worst] = worstPowers(networkOf('series', [24]), states);
    expect(worst!.powerWatt).toBeCloseTo((16 / 82) ** 2 * 24, 12);
    expect(worst!.when).toEqual({ supplyVolt: 16, sender: 'short' });
    const [shunt] = worstPowers(networkOf('shunt', [132.63]), states);
    expect(shunt!.when).toEqual({ supplyVolt: 16, sender: 'open' });
  });
});

describe('a part to buy', () => {
  const part = (options: TrimOptions): Candidate['parts'][number] =>
    bestOf(thermalTemperature, hotSender, { ...only('series', 24), gaugeOhm: 58, supplyVolt: 10, ...options })
      .parts[0]!;

  it('has a rating that carries the worst power where it is mounted, with margin', () => {
    // Dash: 85 degC leaves 0.8235 of a film part's rating, 0.8 of that is used: 0.914 W needs 1.39 W, so 2 W.
    expect(part({})).toMatchObject({
      place: 'series',
      ratingWatt: 2,
      powerWorstWhen: { supplyVolt: 16, sender: 'short' },
    });
    expect(part({ place: 'engine-bay' }).ratingWatt).toBe(5);
    expect(part({ place: 'bench', highestSupplyVolt: 10 }).ratingWatt).toBe(0.5);
  });

  it('carries its tolerance', () => {
    expect(part({ tolerancePercent: 1 }).tolerancePercent).toBe(1);
    expect(bestOf(thermalTemperature, hotSender, { series: 'E96' }).parts[0]!.tolerancePercent).toBe(1);
  });

  it('without a rating on the market is warned about', () => {
    const candidate = bestOf(thermalTemperature, hotSender, {
      ...only('shunt', 10),
      gaugeOhm: 1,
      highestSupplyVolt: 48,
    });
    expect(candidate.parts[0]!.ratingWatt).toBeUndefined();
    expect(candidate.warnings.find(({ code }) => code === 'PART_OVERLOADED')).toMatchObject({
      slots: { place: 'shunt' },
    });
  });

  it('says what was assumed', () => {
    expect(assumedWords(bestOf(thermalTemperature, hotSender, {}).powerBasis, plain).join()).toMatch(
      /13.8 V.*16 V.*gauge of 50 ohm/,
    );
    expect(bestOf(thermalTemperature, hotSender, { supplyVolt: 5 }).powerBasis.gaugeOhm).toBe(12);
    expect(part({ highestSupplyVolt: 16 }).powerWorstWatt).toBeCloseTo(0.914, 3);
    const given = { gaugeOhm: 58, supplyVolt: 10, highestSupplyVolt: 16 };
    expect(bestOf(thermalTemperature, hotSender, given).powerBasis.assumed).toEqual([]);
  });
});

describe('a failing part', () => {
  const failure = (candidate: Candidate, fails: 'open' | 'short'): Candidate['failures'][number] =>
    candidate.failures.find((each) => each.fails === fails)!;

  it('in series with a thermistor is dangerous open: the gauge rests cold', () => {
    const open = failure(bestOf(thermalTemperature, thermistor(600, 3900), only('series', 10)), 'open');
    expect(open).toMatchObject({ danger: true, place: 'series' });
    expect(open.indicatedAtTo).toBe(thermalTemperature.reading(Infinity));
    expect(open.needle).toEqual({ does: 'stays', at: { side: 'low', isOnStop: true } });
    expect(open.hides).toBe('overheating');
  });

  it('across a thermistor is visible shorted: the gauge goes hot', () => {
    const short = failure(bestOf(thermalTemperature, hotSender, only('shunt', 430)), 'short');
    expect(short.danger).toBe(false);
    expect(short.indicatedAtFrom).toBe(120);
  });

  it('on fuel is dangerous when it shows fuel that is not there', () => {
    const rising = bestOf(linearGauge('fuel', 10, 90), linearSender('fuel', 0, 80), only('series', 10));
    expect(failure(rising, 'open')).toMatchObject({ danger: true, indicatedAtFrom: 100 });
    expect(failure(rising, 'open').hides).toBe('empty-tank');
    const falling = bestOf(fallingGauge('fuel', 100, 20), linearSender('fuel', 90, 10), only('series', 10));
    expect(failure(falling, 'open')).toMatchObject({ danger: false, indicatedAtTo: 0 });
  });

  it('on oil pressure is dangerous when it shows pressure that is not there', () => {
    const rising = bestOf(
      linearGauge('pressure', 10, 180),
      linearSender('pressure', 0, 170),
      only('series', 10),
    );
    expect(failure(rising, 'open').hides).toBe('no-pressure');
    expect(failure(rising, 'short').danger).toBe(false);
  });

  it('is listed open and shorted for every part, with what the others then carry', () => {
    const candidate = bestOf(thermalTemperature, thermistor(900, 4000), { topologies: ['three-resistor'] });
    expect(candidate.failures.map(({ place, fails }) => `${place} ${fails}`)).toEqual([
      'series-gauge-side open',
      'series-gauge-side short',
      'shunt open',
      'shunt short',
      'series-sender-side open',
      'series-sender-side short',
    ]);
    expect(candidate.failures[0]!.otherPartsWatt).toBe(0);
    expect(candidate.failures[1]!.otherPartsWatt).toBeGreaterThan(0);
    expect(candidate.warnings.map((each) => saidRemark(each, plain)).join()).toMatch(
      /If the resistor in the lead, on the gauge side goes open/,
    );
  });
});

describe('tolerance', () => {
  const options = { ...only('shunt', 430), tolerancePercent: 5, from: 45, to: 110, trials: 4000 } as const;
  const candidate = bestOf(thermalTemperature, hotSender, options);

  it('by the S-invariant and by Monte Carlo is the same where the needle is nearly straight', () => {
    const firstOrder = Math.max(...candidate.tolerance.rows.map((row) => row.partsUncertainty));
    const { partsStandardDeviation } = candidate.tolerance.monteCarlo;
    expect(Math.abs(partsStandardDeviation / firstOrder - 1)).toBeLessThan(0.05);
  });

  it('shares sum to 1, and 1 % parts never add more than 1 %', () => {
    for (const row of candidate.tolerance.rows)
      expect(row.senderShare + row.partShares.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 12);
    fc.assert(
      fc.property(anyNetwork(), anyOhm(), (network, senderOhm) => {
        const gauge = {
          ...thermalTemperature,
          reading: (ohm: number) => Math.log(Math.min(Math.max(ohm, 1e-9), 1e12)),
        };
        const loaded = { gauge, sender: hotSender, network, tolerancePercent: () => 1, dashHalf: 0 };
        expect(partsUncertainty(loaded, senderOhm)).toBeLessThanOrEqual(0.01 / Math.sqrt(3) + 1e-9);
      }),
    );
  });

  it('is drawn alike from the same seed, and differently from another', () => {
    const again = bestOf(thermalTemperature, hotSender, options).tolerance.monteCarlo;
    expect(again).toEqual(candidate.tolerance.monteCarlo);
    expect(bestOf(thermalTemperature, hotSender, { ...options, seed: 2 }).tolerance.monteCarlo).not.toEqual(
      again,
    );
  });

  it('makes nine networks in ten worse than the nominal one at its worst, never better than nothing', () => {
    const { medianWorstError, worstErrorOf95Percent, keepsRuleFraction } = candidate.tolerance.monteCarlo;
    expect(worstErrorOf95Percent).toBeGreaterThanOrEqual(medianWorstError);
    expect(worstErrorOf95Percent).toBeGreaterThan(candidate.worstError);
    expect(keepsRuleFraction).toBeGreaterThan(0);
    expect(keepsRuleFraction).toBeLessThanOrEqual(1);
  });
});

describe('the error table', () => {
  const candidate = bestOf(thermalTemperature, hotSender, { from: 45, to: 110 });

  it('holds both ends of the band and the worst error', () => {
    const table = candidate.errorTable;
    expect([table[0]!.trueValue, table.at(-1)!.trueValue]).toEqual([45, 110]);
    const worst = table.find((row) => row.trueValue === candidate.worstAt)!;
    expect(Math.abs(worst.error)).toBe(candidate.worstError);
    for (const row of table) {
      expect(row.indicated - row.trueValue).toBe(row.error);
      expect(Math.abs(row.error)).toBeLessThanOrEqual(candidate.worstError);
    }
  });

  // Rectangular, so its half over root 3 (GUM 4.3.7), with 0.5 of the curve; 4 % of the scale from cold to hot dash is
  // common practice, no source.
  it.each([
    ['assumed for a thermal gauge', { mechanism: 'thermal' }, 0.02 * 80],
    ['as somebody saw it', { mechanism: 'thermal', dashShift: -3 }, 1.5],
    ['not for coils, which follow a law of copper', { mechanism: 'two-coil' }, 0],
  ] as const)('counts how warm the dash is: %s', (_, options, half) => {
    const gauge = { ...thermalTemperature, readingUncertainty: () => 0.5 };
    const sender = { ...hotSender, relativeUncertainty: () => 0 };
    const { errorTable } = bestOf(gauge, sender, { from: 45, to: 110, topologies: ['none'], ...options });
    expect(errorTable[3]!.expandedUncertainty).toBeCloseTo(2 * Math.hypot(0.5, half / Math.sqrt(3)), 9);
  });

  it('combines gauge, sender and parts with k = 2', () => {
    const exact = { ...hotSender, relativeUncertainty: () => 0 };
    const [row] = bestOf(thermalTemperature, exact, { from: 45, to: 110, tolerancePercent: 0 }).errorTable;
    expect(row!.expandedUncertainty).toBeCloseTo(2 * 0.5, 12);
    expect(candidate.errorTable[5]!.expandedUncertainty).toBeGreaterThan(1);
  });

  it('is bounded between its samples too', () => {
    const { from, to } = { from: 45, to: 110 };
    const network = networkOf('shunt', [430]);
    const loaded = {
      gauge: thermalTemperature,
      sender: hotSender,
      network,
      tolerancePercent: () => 1,
      dashHalf: 0,
    };
    const bound = worstErrorAnywhere(loaded, { from, to });
    let worst = 0;
    for (let step = 0; step <= 20_000; step += 1) {
      const value = from + ((to - from) * step) / 20_000;
      worst = Math.max(
        worst,
        Math.abs(thermalTemperature.reading(seenOhm(network, hotSender.ohm(value))) - value),
      );
    }
    expect(bound).toBeGreaterThanOrEqual(worst);
    expect(bound).toBeLessThanOrEqual(worst + (2 * (to - from)) / 1000);
    expect(candidate.worstErrorAnywhere).toBeGreaterThanOrEqual(candidate.worstError);
  });
});

describe('the next sender out of the box', () => {
  it('reads hot when it is 10 % low and cold when it is 10 % high', () => {
    const candidate = bestOf(thermalTemperature, hotSender, { from: 45, to: 110, dangerWeight: 1 });
    const [low, high] = candidate.replacements;
    expect([low!.changePercent, high!.changePercent]).toEqual([-10, 10]);
    const network = networkOf(
      candidate.topology,
      candidate.parts.map((part) => part.resistanceOhm),
    );
    expect(low!.errorAtTo).toBeCloseTo(
      thermalTemperature.reading(seenOhm(network, 0.9 * hotSender.ohm(110))) - 110,
      12,
    );
    expect(high!.errorAtTo).toBeLessThan(low!.errorAtTo);
    expect(high!.keepsRule).toBe(false);
  });
});

describe('dash temperature and supply', () => {
  const effects = (
    gauge: GaugeResponse,
    sender: SenderResponse,
    options: TrimOptions,
  ): Record<string, number> =>
    Object.fromEntries(
      bestOf(gauge, sender, options).surroundings.map((each) => [
        surroundingsWords(each.with, plain),
        each.largestShift,
      ]),
    );

  it('move a two-coil gauge with its copper, not with the battery', () => {
    const shifts = effects(twoCoilFuel, linearSender('fuel', 0, 95), { mechanism: 'two-coil' });
    expect(shifts['dash at 60 degC']).toBeLessThan(-5);
    expect(shifts['dash at -10 degC']).toBeGreaterThan(5);
    expect(shifts['battery at 11 V']).toBeCloseTo(0, 9);
  });

  it('move an unregulated thermal gauge with the battery, a stabilised one not at all', () => {
    const loose = effects(thermalTemperature, hotSender, {
      mechanism: 'thermal',
      gaugeOhm: 58,
      supplyVolt: 13.8,
    });
    expect(loose['battery at 11 V']).toBeLessThan(-5);
    expect(loose['battery at 15 V']).toBeGreaterThan(2);
    const held = effects(thermalTemperature, hotSender, {
      mechanism: 'thermal',
      gaugeOhm: 58,
      supplyVolt: 10,
    });
    expect(Math.abs(held['battery at 11 V']!)).toBeLessThan(1e-9);
  });

  it('are not told for a mechanism that is not known: but half an ohm in the lead moves every needle', () => {
    const shifts = effects(thermalTemperature, hotSender, {});
    const [lead] = Object.keys(shifts);
    expect(Object.keys(shifts)).toEqual(['0.5 ohm more in the sender lead']);
    // At the hot end a network of some tens of ohms is half an ohm nearer to cold.
    expect(shifts[lead!]).toBeLessThan(-0.3);
    expect(shifts[lead!]).toBeGreaterThan(-3);
  });
});

describe('the recommended candidate', () => {
  it('has the fewest parts among those as good as the best', () => {
    const answer = trim(thermalTemperature, thermistor(760, 3800), { from: 45, to: 115 });
    if (answer.kind === 'refused') throw new Error(answer.code);
    const recommended = (trimmed: Trimmed): Candidate => trimmed.candidates[trimmed.recommended]!;
    const good = answer.candidates[0]!.worstWeightedError + 0.7;
    for (const candidate of answer.candidates)
      if (candidate.worstWeightedError <= good && candidate.keepsRule)
        expect(candidate.parts.length).toBeGreaterThanOrEqual(recommended(answer).parts.length);
    expect(recommended(answer).worstWeightedError).toBeLessThanOrEqual(good);
  });
});
