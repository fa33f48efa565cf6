import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { logSpaced, nextRefinement, type PlanReading } from '../../../host/core/plan';

const options = { readingUncertainty: 0.5 };
const sweepOf = (law: (ohm: number) => number, ohms: readonly number[]): PlanReading[] =>
  ohms.map((resistanceOhm) => ({ resistanceOhm, reading: law(resistanceOhm) }));
const decade = (() => {
  const spaced = logSpaced(20, 400, 6);
  if (spaced.kind === 'refused') throw new Error(spaced.code);
  return spaced.resistancesOhm;
})();

describe('log spacing', () => {
  it('has equal ratios and keeps both ends', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 100, noNaN: true }),
        fc.integer({ min: 2, max: 40 }),
        (from, count) => {
          const spaced = logSpaced(from, from * 17, count);
          if (spaced.kind === 'refused') throw new Error(spaced.code);
          const ohms = spaced.resistancesOhm;
          expect(ohms).toHaveLength(count);
          const ratio = 17 ** (1 / (count - 1));
          // Four significant digits: 5e-4 relative at worst, at each end of the ratio.
          ohms
            .slice(1)
            .forEach((ohm, index) => expect(Math.abs(ohm / ohms[index]! / ratio - 1)).toBeLessThan(1e-3));
        },
      ),
    );
  });

  it.each([
    [0, 100, 6, 'PLAN_RANGE'],
    [100, 100, 6, 'PLAN_RANGE'],
    [Number.NaN, 100, 6, 'PLAN_RANGE'],
    [10, 100, 1, 'PLAN_COUNT'],
    [10, 100, 2.5, 'PLAN_COUNT'],
  ])('refuses %d to %d in %d points with %s', (from, to, count, code) => {
    expect(logSpaced(from, to, count)).toMatchObject({ kind: 'refused', code });
  });
});

describe('where the next reading tells most', () => {
  it('adds nothing to a curve that is straight in ln R', () => {
    expect(
      nextRefinement(
        sweepOf((ohm) => 10 * Math.log(ohm), decade),
        options,
      ).kind,
    ).toBe('enough');
  });

  it('goes where the curve bends', () => {
    const bent = sweepOf((ohm) => (ohm < 60 ? 100 : 100 - 60 * Math.log(ohm / 60)), decade);
    const next = nextRefinement(bent, options);
    if (next.kind !== 'point') throw new Error('a bend must be looked at');
    expect(next.resistanceOhm).toBeGreaterThan(30);
    expect(next.resistanceOhm).toBeLessThan(130);
  });

  it('goes where the fit says that it knows least, when that is worse than the bend', () => {
    const straight = sweepOf((ohm) => 10 * Math.log(ohm), decade);
    const uncertaintyAt = (ohm: number) => (ohm > 220 ? 4 : 0.1);
    const next = nextRefinement(straight, { ...options, uncertaintyAt });
    expect(next).toMatchObject({ kind: 'point', why: 'uncertainty', expectedError: 4 });
    expect(next.kind === 'point' && next.resistanceOhm > 220).toBe(true);
  });

  it('finds the edge of a plateau to a few per cent in a handful of readings', () => {
    // The needle rests from 60 to 100 ohm, as a flat-centred electronic gauge does.
    const law = (ohm: number) => {
      if (ohm < 60) return 90 + 40 * Math.log(60 / ohm);
      return ohm > 100 ? 90 - 40 * Math.log(ohm / 100) : 90;
    };
    const readings = sweepOf(law, decade);
    for (let added = 0; added < 8; added += 1) {
      const next = nextRefinement(readings, options);
      if (next.kind === 'enough') break;
      readings.push({ resistanceOhm: next.resistanceOhm, reading: law(next.resistanceOhm) });
    }
    for (const edge of [60, 100]) {
      const nearest = Math.min(...readings.map((each) => Math.abs(Math.log(each.resistanceOhm / edge))));
      expect(nearest).toBeLessThan(0.15);
    }
  });

  it('comes to an end, on any readings, and never asks for a point it already has', () => {
    const anyReadings = fc.array(
      fc.record({
        resistanceOhm: fc.double({ min: 1, max: 1000, noNaN: true }),
        reading: fc.double({ min: 0, max: 100, noNaN: true }),
        atStop: fc.constantFrom(undefined, undefined, 'low' as const, 'high' as const),
      }),
      { maxLength: 12 },
    );
    fc.assert(
      fc.property(anyReadings, (start) => {
        const readings: PlanReading[] = [...start];
        for (let added = 0; added < 400; added += 1) {
          const next = nextRefinement(readings, options);
          expect(Number.isFinite(next.expectedError)).toBe(true);
          if (next.kind === 'enough') return;
          const nearest = Math.min(
            ...readings.map((each) => Math.abs(Math.log(each.resistanceOhm / next.resistanceOhm))),
          );
          expect(nearest).toBeGreaterThan(0.03);
          readings.push({ resistanceOhm: next.resistanceOhm, reading: 50 });
        }
        throw new Error('refinement must end');
      }),
    );
  });

  it('goes, for a needle that a program moves, to where a rest could hide, however straight the points lie', () => {
    // It rose by 14 in an octave where it was quickest: in an octave of 10 it may have rested and hurried.
    const readings = [25, 50, 100, 200, 400, 800].map((resistanceOhm, i) => ({
      resistanceOhm,
      reading: [0, 10, 20, 30, 31, 45][i]!,
    }));
    const next = nextRefinement(readings, { ...options, mayRest: true });
    expect(next).toMatchObject({ kind: 'point', why: 'uncertainty' });
    if (next.kind !== 'point') return;
    expect(next.resistanceOhm).toBeLessThan(200);
    expect(next.expectedError).toBeCloseTo(10 * (1.2 * 1.4 * 0.5 - 0.5), 6);
  });

  it('has enough, for a needle that a program moves, when every gap is bounded to less than one reading shows', () => {
    const straight = Array.from({ length: 25 }, (_, k) => 20 * 20 ** (k / 24)).map((resistanceOhm) => ({
      resistanceOhm,
      reading: 10 * Math.log(resistanceOhm),
    }));
    expect(nextRefinement(straight, { ...options, mayRest: true }).kind).toBe('enough');
  });
});
