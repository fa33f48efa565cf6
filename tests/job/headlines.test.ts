import { describe, expect, it } from 'vitest';
import { foldJob, legGap, progressOf, readingUncertaintyOf, type EventBody } from '../../host/job';
import { coolantGauge, opened, readingOf, stamped, sweepStarted } from './sample';
import { headlines } from '../../host/words/headline';
import { plain } from '../../host/words/notation';
import { shortFindings } from '../../host/words/short-finding';

const lines = (bodies: readonly EventBody[], facts = {}) => {
  const state = foldJob(stamped([opened, ...bodies]))!;
  return Object.fromEntries(headlines(state, plain, facts).map((line) => [line.station, line.text]));
};

describe('the line a station folds to', () => {
  it('says what was found, in the units of the dial', () => {
    const found = lines([
      { kind: 'as-found', state: 'hot, idling', indicated: 97, reference: 90 },
      { kind: 'check-concluded', finding: 'sound', sentence: 'all sound', evidence: [], notAsked: [] },
    ]);
    expect(found.check).toBe('Reads 7 degC high at 90 degC; sound: everything was asked');
  });

  it('says no more than "nothing found so far" while something was not asked, of old journals too', () => {
    const concluded = { kind: 'check-concluded' as const, sentence: 'all well', evidence: [] };
    const old = lines([{ ...concluded, finding: 'sound' }]);
    expect(old.check).toBe('nothing found so far');
    const notAsked = ['supply at the gauge', 'ohms of the sender at its connector'];
    const partly = lines([{ ...concluded, finding: 'nothing-found', notAsked }]);
    expect(partly.check).toBe('nothing found so far, 2 things not asked');
  });

  it('says how well the curve is known as a part of the arc, and how far the legs differ', () => {
    const finished: EventBody = { kind: 'sweep-finished', sweepId: 'w1', complete: true };
    const read = [readingOf(1, 50), readingOf(2, 88), readingOf(3, 119), readingOf(4, 90)];
    expect(lines([sweepStarted, ...read, finished], { curveKnown: { size: 0.84 } }).sweep).toBe(
      '4 readings; curve known to \u00b11.2 % of the scale; up and down differ by 2 degC at 84 ohm',
    );
  });

  it('says how well it is known where a vehicle in order runs and where it overheats, then the end that is worse', () => {
    const finished: EventBody = { kind: 'sweep-finished', sweepId: 'w1', complete: true };
    const read = [readingOf(1, 50), readingOf(2, 88), readingOf(3, 119), readingOf(4, 90)];
    const curveKnown = { size: 0.84, range: { from: 90, to: 120 }, worst: { size: 4.9, at: 50 } };
    expect(lines([sweepStarted, ...read, finished], { curveKnown }).sweep).toContain(
      'curve known to \u00b11.2 % of the scale from 90 to 120 degC, \u00b17 % at 50 degC;',
    );
  });

  it('has the one setting read again that speaks against the others, and blames no play of the needle', () => {
    const finished: EventBody = { kind: 'sweep-finished', sweepId: 'w1', complete: true };
    const read = [readingOf(1, 50), readingOf(2, 88), readingOf(3, 119), readingOf(4, 90)];
    const doubtful = { resistanceOhm: 320, good: { from: 60, to: 120, expandedUncertainty: 1.44 } };
    const facts = { curveKnown: { size: 8.2 }, doubtful };
    expect(lines([sweepStarted, ...read, finished], facts).sweep).toBe(
      '4 readings; repeat the reading at 320 ohm; 60 to 120 degC is good to \u00b11.44 degC',
    );
  });

  it('is no sweep that is done with one reading for the check: no curve comes of less than three settings', () => {
    const finished: EventBody = { kind: 'sweep-finished', sweepId: 'w1', complete: true };
    const isDone = (bodies: readonly EventBody[]): boolean | undefined =>
      headlines(foldJob(stamped([opened, sweepStarted, ...bodies, finished]))!, plain).find(
        ({ station }) => station === 'sweep',
      )?.done;
    expect(isDone([readingOf(2, 88)])).toBe(false);
    // Two at one setting are one setting.
    expect(isDone([readingOf(1, 50), readingOf(2, 88), readingOf(4, 90)])).toBe(false);
    expect(isDone([readingOf(1, 50), readingOf(2, 88), readingOf(3, 119)])).toBe(true);
  });

  it('says why a sweep stands still', () => {
    const paused = lines([sweepStarted, readingOf(1, 50), { kind: 'box-lost', reason: 'the lead came out' }]);
    expect(paused.sweep).toBe('1 of 4 steps, about 4 min left, paused: the lead came out');
  });
});

describe('views', () => {
  it('counts a seek as several moves when it says how long is left', () => {
    const step = foldJob(stamped([opened, sweepStarted]))!.sweeps[0]!;
    expect(progressOf(step).minutesLeft).toBe(5); // 4 steps of 68 s
    expect(progressOf({ ...step, mode: 'seek' }).minutesLeft).toBe(14); // three whole waits for each mark
  });

  it('leaves struck readings out of the gap between the legs', () => {
    const read = [readingOf(2, 88), readingOf(4, 93)];
    const struck: EventBody = { kind: 'reading-struck', readingId: 'r4', reason: 'lights on' };
    expect(legGap(foldJob(stamped([opened, sweepStarted, ...read]))!)).toEqual({ gap: 5, resistanceOhm: 84 });
    expect(legGap(foldJob(stamped([opened, sweepStarted, ...read, struck]))!)).toBeUndefined();
  });

  it('reads a dial to half a division, rectangular', () => {
    // GUM 4.3.7: half-width a, u = a / sqrt 3; a = 2.5 for a division of 5.
    expect(readingUncertaintyOf({ ...coolantGauge, marks: [...coolantGauge.marks] })).toBeCloseTo(1.4434, 4);
  });
});

describe('the few words under a mark of the station scale', () => {
  const short = (bodies: readonly EventBody[], facts = {}) =>
    shortFindings(foldJob(stamped([opened, ...bodies]))!, plain, facts);

  it('say that nothing was done yet, and then what was found', () => {
    expect(Object.values(short([]))).toEqual([
      'Not checked yet',
      'No readings yet',
      'No points yet',
      'None chosen yet',
      'Not proved yet',
      'Not made yet',
    ]);
    const finished: EventBody = { kind: 'sweep-finished', sweepId: 'w1', complete: true };
    const read = [readingOf(1, 50), readingOf(2, 88), readingOf(3, 119)];
    const found = short(
      [
        { kind: 'check-concluded', finding: 'ground-fault', sentence: 'a bad ground', evidence: [] },
        sweepStarted,
        ...read,
        finished,
      ],
      { curveKnown: { size: 0.8437 } },
    );
    expect(found.check).toBe('Ground fault');
    expect(found.sweep).toBe('3 readings, \u00b10.84 degC');
  });

  it('name a reading that is to be repeated, and no uncertainty beside it', () => {
    const finished: EventBody = { kind: 'sweep-finished', sweepId: 'w1', complete: true };
    const doubtful = { resistanceOhm: 320 };
    const read = [readingOf(1, 50), readingOf(2, 88), readingOf(3, 119)];
    const found = short([sweepStarted, ...read, finished], { curveKnown: { size: 8.2 }, doubtful });
    expect(found.sweep).toBe('3 readings, one to repeat');
  });
});
