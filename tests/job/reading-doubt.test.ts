import { describe, expect, it } from 'vitest';
import type { JobState, Reading } from '../../host/job';
import type { Gauge } from '../../host/job/schema/gauge';
import { printedReading } from '../../host/job/state/printed-reading';
import { readingDoubt } from '../../host/job/state/reading-doubt';
import { plain } from '../../host/words/notation';
import { doubtWords } from '../../host/words/reading-doubt';

const marks = [40, 60, 80, 100, 120].map((reading) => ({
  label: String(reading),
  reading,
  angleFraction: (reading - 40) / 80,
}));
const gauge: Gauge = { quantity: 'temperature', mechanism: 'thermal', unit: 'degC', marks };

/**
 * The world is the heater's physics: heat goes with the square of the current, theta = c / (Rg + r)^2 with Rg = 58 ohm;
 * a gauge's friction and the eye move it by some hundredths of the scale: common practice, no source.
 */
const heat = (ohm: number): number => 1 / (58 + ohm) ** 2;
const shows = (ohm: number): number => 40 + (80 * (heat(ohm) - heat(400))) / (heat(20) - heat(400));
const OHMS = [400, 220, 120, 68, 39, 20];

const read = (resistanceOhm: number, reading: number, sweepId = 'w1'): Reading => ({
  readingId: `r${resistanceOhm}`,
  sweepId,
  stepId: 's',
  resistanceOhm,
  uncertaintyOhm: 0.5,
  reading,
  leg: 'up',
  method: 'step',
  source: 'hand',
  waitedMs: 1,
  n: 1,
  at: '',
  by: '',
});
const stateWith = (...readings: Reading[]): Pick<JobState, 'gauge' | 'readings'> => ({ gauge, readings });
const at = (resistanceOhm: number) => ({
  sweepId: 'w1',
  aim: { kind: 'resistance' as const, resistanceOhm },
});

describe('what speaks against a reading', () => {
  it('says nothing of a whole sweep of an honest gauge, either way, with friction and a rough eye', () => {
    const friction = [2, -2, 3, -3, 1, 2, -2, 3, -1, 0, 2, -2];
    for (const way of [OHMS, [...OHMS].reverse(), [120, 400, 20, 68, 220, 39]]) {
      const known: Reading[] = [];
      for (const [index, ohm] of [...way, ...[...way].reverse()].entries()) {
        const reading = shows(ohm) + (friction[index] ?? 0);
        expect(readingDoubt(stateWith(...known), at(ohm), reading)).toBeUndefined();
        known.push(read(ohm, reading));
      }
    }
  });

  it.each([
    ['a point in the wrong place, between two that are known', [400, 120, 20], [220, 72.5], 'not-between'],
    ['two figures changed about, next to two that are known', [220, 120, 68], [39, 59], 'wrong-way'],
    ['another reading where it was read before', [400, 120, 20], [120, 99], 'not-as-before'],
  ] as const)('is said of %s', (_what, known, [ohm, reading], kind) => {
    const state = stateWith(...known.map((each) => read(each, shows(each))));
    expect(readingDoubt(state, at(ohm), shows(ohm))).toBeUndefined();
    const doubt = readingDoubt(state, at(ohm), reading);
    expect(doubt?.kind).toBe(kind);
    expect(doubtWords(doubt, plain, 'degC')).toMatch(/^.*\d ohm read \d.* degC.*Look again/);
  });

  it('does not question the first, another sweep, or a mark that is sought', () => {
    expect(readingDoubt(stateWith(), at(120), 119)).toBeUndefined();
    expect(readingDoubt(stateWith(read(120, 50, 'w0')), at(120), 119)).toBeUndefined();
    const sought = { sweepId: 'w1', aim: { kind: 'mark' as const, reading: 60 } };
    expect(readingDoubt(stateWith(read(120, 50)), sought, 119)).toBeUndefined();
  });
});

describe('what is printed on the dial', () => {
  const fuel: Gauge = {
    quantity: 'fuel',
    mechanism: 'two-coil',
    unit: '%',
    marks: [
      { label: 'E', reading: 4, angleFraction: 0 },
      { label: '1/2', reading: 50, angleFraction: 0.5 },
      { label: 'F', reading: 100, angleFraction: 1 },
    ],
  };
  it.each([
    ['e', 4],
    ['1/2', 50],
    ['1/4', 28],
    ['3/4', 76],
    ['5/4', undefined],
    ['1/0', undefined],
    ['72', undefined],
  ])('is a reading of a tank: %s', (text, reading) => expect(printedReading(fuel, text)).toBe(reading));

  it('has no parts of a tank on a thermometer', () => {
    expect(printedReading(gauge, '1/4')).toBeUndefined();
    expect(printedReading(gauge, '60')).toBeUndefined();
  });
});
