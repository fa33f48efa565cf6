import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { seekMove, type SeekAnswer, type SeekRange } from '../../../host/core/plan';

const range: SeekRange = {
  lowestOhm: 10,
  highestOhm: 500,
  risesWithResistance: false,
  startOhm: 70,
  firstStepFraction: 0.3,
  resolvedFraction: 0.004,
};

type Person = (needleAboveMark: number, question: number) => SeekAnswer['needle'];

/** Sees the mark within a dead band and never errs. `needleAboveMark` is in ln R, signed upscale. */
const exact =
  (deadBand: number): Person =>
  (off) =>
    Math.abs(off) <= deadBand ? 'on' : off < 0 ? 'below' : 'above';

const seek = (trueOhm: number, person: Person, within: SeekRange) => {
  const answers: SeekAnswer[] = [];
  const sign = within.risesWithResistance ? 1 : -1;
  for (let question = 0; question < 60; question += 1) {
    const move = seekMove(answers, within);
    if (move.kind !== 'try') return { move, answers };
    expect(move.resistanceOhm).toBeGreaterThanOrEqual(within.lowestOhm * (1 - 1e-12));
    expect(move.resistanceOhm).toBeLessThanOrEqual(within.highestOhm * (1 + 1e-12));
    const off = sign * Math.log(move.resistanceOhm / trueOhm);
    answers.push({ resistanceOhm: move.resistanceOhm, needle: person(off, question) });
  }
  throw new Error('a seek must end');
};

const anyOhm = fc.double({ min: 10.5, max: 480, noNaN: true });

describe('seeking a mark', () => {
  it('finds it to what can be told apart, from any start, for gauges that rise and that fall', () => {
    fc.assert(
      fc.property(anyOhm, anyOhm, fc.boolean(), (trueOhm, startOhm, risesWithResistance) => {
        const { move, answers } = seek(trueOhm, exact(0.001), { ...range, startOhm, risesWithResistance });
        expect(move.kind).toBe('found');
        if (move.kind !== 'found') return;
        expect(Math.abs(Math.log(move.resistanceOhm / trueOhm))).toBeLessThanOrEqual(range.resolvedFraction);
        expect(answers.length).toBeLessThanOrEqual(20);
      }),
    );
  });

  it('ends within 40 answers, whatever is answered', () => {
    const anyAnswers = fc.infiniteStream(fc.constantFrom('below' as const, 'above' as const, 'on' as const));
    fc.assert(
      fc.property(anyAnswers, (stream) => {
        const given = [...stream.take(60)];
        expect(
          seek(50, (_off, question) => given[question] ?? 'on', range).answers.length,
        ).toBeLessThanOrEqual(40);
      }),
    );
  });

  it('finds it although one answer was a slip of the finger, whichever one', () => {
    fc.assert(
      fc.property(anyOhm, fc.integer({ min: 0, max: 12 }), (trueOhm, slipAt) => {
        const steady = exact(0.002);
        const slips: Person = (off, question) => {
          const right = steady(off, question);
          if (question !== slipAt || right === 'on') return right;
          return right === 'below' ? 'above' : 'below';
        };
        const { move } = seek(trueOhm, slips, range);
        if (move.kind !== 'found') throw new Error('reachable');
        expect(Math.abs(Math.log(move.resistanceOhm / trueOhm))).toBeLessThanOrEqual(
          3 * range.resolvedFraction,
        );
      }),
    );
  });

  it('says that a mark is out of reach, and on which side the needle stays', () => {
    const below = seek(5, () => 'below', range).move;
    expect(below).toMatchObject({ kind: 'unreachable', needle: 'below' });
    expect(below.resistanceOhm).toBeCloseTo(10, 9);
    const above = seek(900, () => 'above', range).move;
    expect(above).toMatchObject({ kind: 'unreachable', needle: 'above' });
  });

  it('goes on from the answers in the journal as if it had never stopped', () => {
    const whole = seek(33, exact(0.001), range).answers;
    for (let cut = 0; cut < whole.length; cut += 1) {
      const move = seekMove(whole.slice(0, cut), range);
      expect(move.kind === 'try' ? move.resistanceOhm : undefined).toBe(whole[cut]?.resistanceOhm);
    }
  });
});
