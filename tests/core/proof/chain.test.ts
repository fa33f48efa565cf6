import { describe, expect, it } from 'vitest';
import { testChain, type ChainPair } from '../../../host/core/proof/chain';
import type { Chain } from '../../../host/core/proof/circuit-model';
import type { MismatchCause } from '../../../host/core/proof/mismatch';
import { answered, refusalCode } from '../../support/answer';
import { carOf, measuredGauge, measuredSender, noiseOf, type Fault, type Kind } from './car';

const chains = new Map<Kind, Chain>();
const chainOf = (kind: Kind): Chain => {
  const known = chains.get(kind);
  if (known !== undefined) return known;
  const noise = noiseOf(11, 0.4);
  const chain: Chain = {
    gauge: measuredGauge(kind, noise),
    sender: measuredSender(carOf(kind), noise.random, 0.01),
    network: { topology: 'none', parts: [] },
    terminals: kind === 'thermal' ? 2 : 3,
  };
  chains.set(kind, chain);
  return chain;
};

/** Pairs of one car with a fault, read by a person beside a probe; as many as there are places. */
const pairsOf = (kind: Kind, fault: Fault, places: readonly number[], seed: number): ChainPair[] => {
  const { random } = noiseOf(seed, 0);
  const misplaced = 0.75 * random.normal();
  return places.map((truth) => ({
    value: truth + misplaced + 0.25 * random.normal(),
    indicated: carOf(kind).shows(truth, fault) + 0.5 * random.normal(),
    sharedUncertainty: 1.5,
    eachUncertainty: 0.5,
    readingUncertainty: 1,
  }));
};
const PLACES = [45, 65, 85, 100];
const found = (kind: Kind, fault: Fault, seed: number, places = PLACES) =>
  answered(testChain(chainOf(kind), pairsOf(kind, fault, places, seed)));
const seeds = Array.from({ length: 40 }, (_, i) => 100 + i);
const shareOf = (test: (seed: number) => boolean): number => seeds.filter(test).length / seeds.length;

describe.each(['thermal', 'coils'] as const)('the chain of a car with a gauge of %s', (kind) => {
  it('agrees where nothing is wrong', () => {
    expect(shareOf((seed) => !found(kind, {}, seed).faultRemains)).toBeGreaterThanOrEqual(0.9);
  });

  const faults: readonly (readonly [MismatchCause, Fault])[] = [
    ['series', { seriesOhm: 18 }],
    ['leak', { leakOhm: 400 }],
    ['ground', { groundVolt: 1.2 }],
    ['family', { senderPart: 0.25 }],
    ['pointer', { pointer: 7 }],
    ...(kind === 'thermal' ? ([['volts', { voltPart: -0.12 }]] as const) : []),
  ];

  it.each(faults)(
    'says that a fault remains with %s, and ranks it first or beside its likeness',
    (cause, fault) => {
      expect(shareOf((seed) => found(kind, fault, seed).faultRemains)).toBeGreaterThanOrEqual(0.9);
      const named = shareOf((seed) =>
        found(kind, fault, seed)
          .mismatch.ranked.slice(0, 2)
          .some(({ causes, alike }) => [...causes, ...alike].includes(cause)),
      );
      expect(named).toBeGreaterThanOrEqual(0.75);
    },
  );
});

describe('what pairs cannot tell', () => {
  it('volts and a ground offset on two terminals, for any number of pairs', () => {
    const many = Array.from({ length: 15 }, (_, i) => 40 + 5 * i);
    const { ranked, tellsApart } = found('thermal', { voltPart: -0.12 }, 7, many).mismatch;
    const volts = ranked.find(({ causes }) => causes[0] === 'volts');
    expect(volts?.alike).toContain('ground');
    expect(tellsApart).not.toBeUndefined();
  });

  it('one pair tells nothing apart', () => {
    const { ranked } = found('thermal', { senderPart: 0.3 }, 7, [85]).mismatch;
    expect(ranked[0]?.alike.length).toBeGreaterThanOrEqual(3);
    expect(ranked[0]?.share).toBeLessThan(0.6);
  });

  it('two faults at once are looked for only where no single one fits', () => {
    const two = found('thermal', { pointer: 9, seriesOhm: 30 }, 3, [40, 55, 70, 85, 100, 112]);
    expect(two.mismatch.ranked[0]?.causes).toHaveLength(2);
    expect(found('thermal', { senderPart: 0.25 }, 3).mismatch.ranked[0]?.causes).toHaveLength(1);
  });
});

describe('a chain test', () => {
  const pair = pairsOf('thermal', {}, [85], 1)[0]!;
  const code = (pairs: readonly ChainPair[]) => refusalCode(testChain(chainOf('thermal'), pairs));

  it('counts by E_n: the difference over both uncertainties', () => {
    const { pairs } = found('thermal', {}, 5);
    const [first] = pairs;
    expect(first?.score).toBeCloseTo(
      Math.abs(first!.indicated - first!.predicted) /
        Math.hypot(first!.seenExpanded, first!.predictedExpanded),
      12,
    );
  });

  it('is refused without pairs, without uncertainty, without numbers, and where the sender has no curve', () => {
    expect(code([])).toBe('PROOF_NO_PAIRS');
    expect(code([{ ...pair, sharedUncertainty: 0, eachUncertainty: 0 }])).toBe('PROOF_PAIR');
    expect(code([{ ...pair, indicated: NaN }])).toBe('PROOF_PAIR');
    expect(code([{ ...pair, value: NaN }])).toBe('PROOF_PAIR');
    expect(code([{ ...pair, value: 300 }])).toBe('SENDER_OUT_OF_RANGE');
  });
});
