import { describe, expect, it } from 'vitest';
import {
  cloudsOf,
  diagnose,
  evidenceOf,
  expectedOf,
  families,
  isPossible,
  loadOf,
  testNames,
  type Part,
  type Reading,
  type Subject,
} from '../../../host/core/diagnosis';
import { causeRow, causesOf, proofOf } from '../../../host/core/diagnosis/causes';
import { isDeep } from '../../support/deep';
import { isSaidSound, partsOf, runVehicle, singleFaults } from '../../support/diagnosis-runs';

const subject: Subject = {
  family: families['thermal-temperature'],
  way: 'box',
  standsAt: 0.3,
  warmStandsAt: 0.7,
};
const clouds = cloudsOf(subject, 1);

describe('which part lies', () => {
  const runs = singleFaults(1)
    .filter((_, index) => index % (isDeep ? 2 : 8) === 0)
    .map(({ family, faults }, index) =>
      runVehicle(family, faults, { seed: 7_000_000 + index, way: 'box', wrongDigits: 0.01 }),
    );
  const share = (part: number, all: number): number => part / all;

  // A small part of the bench's table, with room for less than a hundred vehicles: the bench tells the figures.
  it('is found in vehicles of another world', () => {
    const right = runs.filter((run) => partsOf(run).some((part) => part === run.last.suspects[0]?.part));
    const said = runs.filter(({ last }) => last.verdict === 'is');
    const saidRight = said.filter((run) => run.last.named.every(({ part }) => partsOf(run).includes(part)));
    const good = runs.filter(({ faults }) => faults.length === 0);
    expect(runs.length).toBeGreaterThan(isDeep ? 80 : 20);
    expect(share(right.length, runs.length)).toBeGreaterThan(0.82);
    expect(share(saidRight.length, said.length)).toBeGreaterThan(0.9);
    expect(good.filter((run) => run.last.verdict === 'is' && !isSaidSound(run)).length).toBeLessThan(3);
  });

  it('is never named without its proving measurement', () => {
    for (const { last } of runs)
      for (const { cause } of last.named) {
        const done = last.findings.map(({ test }) => test);
        for (const tests of proofOf(cause, last.belief.cloud.subject.family))
          expect(
            tests.some((test) => done.includes(test)),
            `${cause}: ${tests.join(' or ')}`,
          ).toBe(true);
      }
  });

  it('ends for every vehicle, with a word or with two that remain', () => {
    for (const { last, tests } of runs) {
      expect(last.next).toBeUndefined();
      expect(tests).toBeLessThan(45);
      expect(last.suspects.length).toBeGreaterThan(1);
    }
  });
});

describe('one decision', () => {
  it('is the same for the same readings, in another cloud of the same seed', () => {
    const readings: Reading[] = [
      { test: 'as-found', value: 0.05 },
      { test: 'sender-plug', value: 118 },
    ];
    const one = diagnose(clouds, { readings });
    const other = diagnose(cloudsOf(subject, 1), { readings });
    expect(other.next).toEqual(one.next);
    expect(other.suspects).toEqual(one.suspects);
  });

  it('asks again what hardly anybody expected, and a third time where two do not agree', () => {
    const before: Reading[] = [
      { test: 'sender-plug', value: 118 },
      { test: 'sender-body', value: 118 },
    ];
    const odd: Reading = { test: 'battery', value: 2.1 };
    expect(diagnose(clouds, { readings: [...before, odd] }).next).toMatchObject({
      test: 'battery',
      why: 'read-again',
    });
    const split = diagnose(clouds, { readings: [...before, odd, { test: 'battery', value: 12.5 }] });
    expect(split.next).toMatchObject({ test: 'battery', why: 'third-reading' });
    const settled = diagnose(clouds, {
      readings: [...before, odd, { test: 'battery', value: 12.5 }, { test: 'battery', value: 12.52 }],
    });
    expect(settled.next?.test).not.toBe('battery');
    expect(settled.findings.find(({ test }) => test === 'battery')?.value).toBeCloseTo(12.51, 2);
  });

  it('asks a question again whose answer hardly anybody expected, and tries anew what jumps by chance', () => {
    const asked = diagnose(clouds, { readings: [{ test: 'branches', value: 1 }] });
    expect(asked.next).toMatchObject({ test: 'branches', why: 'read-again' });
    const twice: Reading[] = [
      { test: 'branches', value: 1 },
      { test: 'branches', value: 0 },
    ];
    expect(diagnose(clouds, { readings: twice }).next).toMatchObject({
      test: 'branches',
      why: 'third-reading',
    });
    const tank = cloudsOf({ family: families['cross-coil-fuel'], way: 'looking', standsAt: 0.3 }, 1);
    const rocked = (...values: readonly number[]) =>
      diagnose(tank, { readings: values.map((value) => ({ test: 'rocking' as const, value })) });
    const worn = ({ belief: { cloud, hypotheses } }: ReturnType<typeof diagnose>): number =>
      hypotheses[cloud.hypotheses.findIndex(({ causes }) => causes.includes('sender-worn'))] ?? 0;
    // Chances 0.92 and 0.03: a second no is as much worth as the first, and a yes and a no lie between.
    expect(worn(rocked(0, 0))).toBeLessThan(0.3 * worn(rocked(0)));
    expect(worn(rocked(1, 0))).toBeGreaterThan(worn(rocked(0)));
    expect(worn(rocked(1, 0))).toBeLessThan(worn(rocked(1, 1)));
    expect(rocked(0).prospects.map(({ test }) => test)).toContain('rocking');
    expect(rocked(0, 0).prospects.map(({ test }) => test)).not.toContain('rocking');
  });

  it('asks first whether the needle moves the right way: a sender the other way round may be right in its middle', () => {
    const tank = cloudsOf({ family: families['thermal-fuel'], way: 'box', standsAt: 0.5 }, 1);
    const share = (value: number): number =>
      diagnose(tank, {
        readings: [
          { test: 'as-found', value: 0.5 },
          { test: 'moves-right', value },
        ],
      }).suspects.find(({ part }) => part === 'curve')?.share ?? 0;
    expect(share(0)).toBeGreaterThan(3 * share(1));
  });

  it('never offers what cannot be done or what a gate shuts', () => {
    const shut = testNames.filter((name) => name !== 'other-gauges');
    const found = diagnose(clouds, { readings: [], skipped: ['other-gauges'], shut });
    expect(found.next).toBeUndefined();
    expect(found.verdict).toBe('between');
    expect(found.named).toEqual([]);
  });

  it('calls nothing sound when nothing could be measured', () => {
    const found = diagnose(clouds, { readings: [{ test: 'other-gauges', value: 0 }], skipped: testNames });
    expect(found.named).toEqual([]);
    expect(found.unproved.length).toBeGreaterThan(0);
  });

  it('names a corroded wire by its ohms, with evidence that a good one would not give', () => {
    const found = diagnose(clouds, {
      readings: [
        // 10 V through 58, 49 and 125 or 110 ohm; the needle follows the square of the current. Source: Ohm's law.
        { test: 'as-found', value: 0.11 },
        { test: 'sender-plug', value: 125 },
        { test: 'middle-load', value: 0.14 },
        { test: 'loaded-volt', value: 5.07 },
        { test: 'wire-ohm', value: 49 },
        { test: 'wire-ohm', value: 49.2 },
      ],
    });
    expect(found.verdict).toBe('is');
    expect(found.named.map(({ part }) => part)).toEqual(['wire']);
    const [strongest] = evidenceOf(found);
    expect(strongest?.weight).toBe('strong');
    // 10 V behind 58 ohm on 110 ohm: 6.55 V. Source: voltage divider.
    const good = expectedOf(found.belief, 'loaded-volt', 'sound');
    expect(good.low).toBeLessThan(6.55);
    expect(good.high).toBeGreaterThan(6.55);
    expect(good.high - good.low).toBeLessThan(1);
  });
});

describe('a second load and wiggled joints', () => {
  const shareOf = (part: Part, readings: readonly Reading[]): number =>
    diagnose(clouds, { readings }).suspects.find((each) => each.part === part)?.share ?? 0;

  // 5.07 V on 110 ohm: 10 V behind 107 ohm, or 7.74 V behind 58. On 40 ohm they give 2.72 and 3.16 V: voltage divider.
  it('part ohms in the wire from a supply that gives too little', () => {
    const before: Reading[] = [{ test: 'loaded-volt', value: 5.07 }];
    const withWire: Reading[] = [...before, { test: 'second-load', value: 2.72 }];
    const withStabiliser: Reading[] = [...before, { test: 'second-load', value: 3.16 }];
    const odds = (readings: readonly Reading[]): number =>
      shareOf('wire', readings) / shareOf('stabiliser', readings);
    expect(odds(withWire)).toBeGreaterThan(3 * odds(before));
    expect(odds(withStabiliser)).toBeLessThan(odds(before) / 3);
  });

  it('speak for what corrodes, and prove nothing', () => {
    const joints: Part[] = ['wire', 'sender-ground', 'supply'];
    const all = (readings: readonly Reading[]): number =>
      joints.reduce((sum, part) => sum + shareOf(part, readings), 0);
    expect(all([{ test: 'wiggle', value: 1 }])).toBeGreaterThan(1.5 * all([]));
    for (const family of Object.values(families))
      for (const name of causesOf(family)) expect(proofOf(name, family).flat()).not.toContain('wiggle');
  });

  it('are no more proof than a good part put in its place, which speaks for one part alone', () => {
    const before: Reading[] = [{ test: 'as-found', value: 0.05 }];
    for (const [test, part] of [
      ['swap-gauge', 'gauge'],
      ['swap-stabiliser', 'stabiliser'],
    ] as const) {
      const yes = shareOf(part, [...before, { test, value: 1 }]);
      expect(yes).toBeGreaterThan(2 * shareOf(part, before));
      expect(shareOf(part, [...before, { test, value: 0 }])).toBeLessThan(shareOf(part, before));
    }
    const all = Object.values(families).flatMap((family) =>
      causesOf(family).flatMap((name) => proofOf(name, family).flat()),
    );
    for (const test of ['swap-sender', 'swap-stabiliser', 'swap-gauge'] as const)
      expect(all).not.toContain(test);
    expect(isPossible('swap-stabiliser', families['two-coil-fuel'], 'looking')).toBe(false);
    expect(isPossible('swap-gauge', families['two-coil-fuel'], 'looking')).toBe(true);
  });

  it('are done on the lowest usual load, with a meter only where nothing chops', () => {
    expect(loadOf('second-load', { middleOhm: 110, lowestOhm: 40 })).toBe(40);
    expect(isPossible('second-load', families['thermal-temperature'], 'meter')).toBe(false);
    expect(isPossible('second-load', families['two-coil-fuel'], 'meter')).toBe(true);
    for (const family of Object.values(families)) expect(isPossible('wiggle', family, 'looking')).toBe(true);
  });
});

describe('the causes', () => {
  it.each(Object.entries(families))('of a %s each have a proof that can be measured', (_, family) => {
    const possible = new Set(cloudsOf({ family, way: 'box' }, 3).single.tests);
    for (const name of causesOf(family)) {
      const proof = proofOf(name, family);
      expect(proof.length, name).toBeGreaterThan(0);
      for (const tests of proof)
        expect(
          tests.some((test) => possible.has(test)),
          `${name}: ${tests.join()}`,
        ).toBe(true);
    }
  });

  it('have shares that make one, whatever is left out', () => {
    for (const family of Object.values(families)) {
      const shares = cloudsOf({ family, way: 'looking' }, 3).single.hypotheses.map(({ prior }) => prior);
      expect(shares.reduce((sum, each) => sum + each, 0)).toBeCloseTo(1, 12);
      expect(causesOf(family).every((name) => causeRow(name).weight > 0)).toBe(true);
    }
  });
});
