import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  cloudsOf,
  diagnose,
  families,
  proofOf,
  testNames,
  testRow,
  waysOfWorking,
  type Clouds,
  type Progress,
  type Reading,
} from '../../../host/core/diagnosis';
import { comparisonOf } from '../../../host/core/diagnosis/measure';
import { isDeep } from '../../support/deep';

const made = new Map<string, Clouds>();
function cloudsFor(name: keyof typeof families, way: (typeof waysOfWorking)[number]): Clouds {
  const key = `${name} ${way}`;
  const known = made.get(key) ?? cloudsOf({ family: families[name], way, standsAt: 0.3 }, 9);
  made.set(key, known);
  return known;
}

const valueOf = (test: Reading['test']): fc.Arbitrary<number> => {
  switch (testRow(test).measure) {
    case 'place':
      return fc.double({ min: -0.05, max: 1.05, noNaN: true });
    case 'step':
      return fc.double({ min: -0.3, max: 0.3, noNaN: true });
    case 'volt':
      return fc.double({ min: -14, max: 14, noNaN: true });
    case 'ohm':
      return fc.double({ min: -1, max: 6, noNaN: true }).map((power) => 10 ** power);
    case 'millivolt':
      return fc.double({ min: -100, max: 2000, noNaN: true });
    case 'chance':
      return fc.constantFrom(0, 1);
  }
};
const reading = fc
  .constantFrom(...testNames)
  .chain((test) => valueOf(test).map((value) => ({ test, value })));
const path = fc.record({
  readings: fc.array(reading, { maxLength: 16 }),
  skipped: fc.subarray([...testNames], { maxLength: 8 }),
  shut: fc.subarray([...testNames], { maxLength: 8 }),
});

/** A value that this very vehicle would show makes a path on which something is named; values at random seldom do. */
function towards(clouds: Clouds, { readings, skipped, shut }: Required<Progress>, at: number): Reading[] {
  const { cloud } = diagnose(clouds, { readings: [] }).belief;
  const hypothesis = cloud.hypotheses[at % cloud.hypotheses.length];
  const middle = (test: Reading['test']): number => {
    const list = cloud.outcomes.get(test);
    const first = (hypothesis?.first ?? 0) + (at % (hypothesis?.count ?? 1));
    const value = list?.[first] ?? 0;
    return testRow(test).measure === 'chance' ? Math.round(value) : comparisonOf(test).back(value);
  };
  const all = [...readings.slice(0, 2)];
  for (let step = 0; step < 20; step += 1) {
    const { next } = diagnose(clouds, { readings: all, skipped, shut });
    if (next === undefined) break;
    all.push({ test: next.test, value: middle(next.test) });
  }
  return all;
}

describe('nothing is named without the measurement that proves it', () => {
  // A cloud takes most of a second to draw: the whole of families and ways is tried in the soak.
  const names = isDeep
    ? (['thermal-temperature', 'two-coil-fuel', 'electronic-temperature'] as const)
    : (['two-coil-fuel'] as const);
  const ways = isDeep ? waysOfWorking : (['box', 'resistors'] as const);

  it('on any path: readings of any value in any order, again, left out, behind a shut gate', () => {
    let named = 0;
    fc.assert(
      fc.property(
        fc.tuple(fc.constantFrom(...names), fc.constantFrom(...ways)),
        path,
        fc.tuple(fc.nat(100_000), fc.boolean()),
        ([name, way], given, [at, isGuided]) => {
          const clouds = cloudsFor(name, way);
          // On its own way to the end a check names something; at random it seldom does.
          const { skipped, shut } = isGuided ? { skipped: given.skipped.slice(0, 1), shut: [] } : given;
          const readings = isGuided ? towards(clouds, { ...given, skipped, shut }, at) : given.readings;
          const found = diagnose(clouds, { readings, skipped, shut });
          named += found.named.length;
          for (const { cause } of found.named)
            for (const tests of proofOf(cause, families[name])) {
              const done = found.findings.filter(({ test, isSplit }) => !isSplit && tests.includes(test));
              expect(done.length, `${cause}: ${tests.join(' or ')}`).toBeGreaterThan(0);
              // And it was read: by somebody, of a sign that is explained.
              expect(readings.some(({ test }) => tests.includes(test))).toBe(true);
            }
          expect(found.verdict === 'is').toBe(found.named.length > 0);
          if (found.next !== undefined) expect([...skipped, ...shut]).not.toContain(found.next.test);
        },
      ),
      { numRuns: isDeep ? 200 : 25, seed: 4 },
    );
    expect(named).toBeGreaterThan(3);
  });
});
