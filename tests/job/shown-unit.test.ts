import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { unitsLike } from '../../host/core/units';
import { foldJob, type LiveFrame } from '../../host/job';
import { understood, withGiven } from '../../host/job/state/command-unit';
import { inShownUnits } from '../../host/job/state/shown-command';
import { frameInUnit } from '../../host/job/wire/frame-in-unit';
import { inShownUnit, turnOf } from '../../host/job/state/shown-unit';
import { confirmationsFor, stillToConfirm } from '../../host/job/state/confirmations';
import { jobCommand } from '../../host/job/schema/commands';
import { decide } from '../../host/bench/decide/decide';
import { opened, readingOf, stamped, sweepStarted } from './sample';

const FAMILIES = [
  ['degC', 'degF'],
  ['kPa', 'bar', 'psi'],
  ['L', 'US gal', 'imp gal'],
] as const;
const anyPair = fc
  .constantFrom(...FAMILIES)
  .chain((family) => fc.tuple(fc.constantFrom(...family), fc.constantFrom(...family)));
/** A number as people type it: at most six figures. */
const typed = fc
  .tuple(fc.integer({ min: -99_999, max: 99_999 }), fc.integer({ min: 0, max: 3 }))
  .map(([digits, decimals]) => Number((digits / 10 ** decimals).toFixed(decimals)));

/** Places of the dial (50 to 120 degC) as they may be typed in degrees Fahrenheit. */
const onTheDial = fc.integer({ min: 12_200, max: 24_800 }).map((hundredths) => hundredths / 100);

const stateAfter = (...more: Parameters<typeof stamped>[0]) => {
  const state = foldJob(stamped([opened, ...more]));
  if (state === undefined) throw new Error('no state');
  return state;
};

describe('a number turned into another unit', () => {
  it('comes back as it was typed, for every pair of units of one scale', () => {
    fc.assert(
      fc.property(anyPair, typed, ([from, to], value) => {
        const there = turnOf(from, to);
        const back = turnOf(to, from);
        const came = back?.value(there?.value(value) ?? NaN) ?? NaN;
        expect(Math.abs(came - value)).toBeLessThanOrEqual(1e-9 * Math.max(1, Math.abs(value)));
      }),
    );
  });

  it('keeps differences as differences', () => {
    fc.assert(
      fc.property(anyPair, typed, typed, ([from, to], one, other) => {
        const turn = turnOf(from, to);
        const [first, second] = [turn?.value(one) ?? NaN, turn?.value(other) ?? NaN];
        const size = turn?.size(one - other) ?? NaN;
        // Each of the three numbers is rounded to eleven figures or more.
        const roundedBy = 1e-11 * (Math.abs(first) + Math.abs(second) + Math.abs(size));
        expect(Math.abs(first - second - size)).toBeLessThanOrEqual(roundedBy + 1e-9);
      }),
    );
  });

  it('agrees with the definitions', () => {
    expect(turnOf('degC', 'degF')?.value(100)).toBe(212);
    expect(turnOf('degF', 'degC')?.value(104)).toBe(40);
    expect(turnOf('bar', 'kPa')?.value(2)).toBe(200);
    expect(turnOf('US gal', 'L')?.value(1)).toBe(3.785411784);
    expect(turnOf('imp gal', 'L')?.value(1)).toBe(4.54609);
    expect(turnOf('psi', 'kPa')?.value(1)).toBeCloseTo(6.894757, 6);
  });

  it('is refused between things that are not the same', () => {
    expect(turnOf('degC', 'bar')).toBeUndefined();
    expect(turnOf('%', 'L')).toBeUndefined();
    expect(unitsLike('%')).toEqual(['%']);
  });
});

describe('a job shown in another unit', () => {
  const shown = (unit: string, ...more: Parameters<typeof stamped>[0]) =>
    inShownUnit(stateAfter(...more, { kind: 'job-changed', shownUnit: unit }));

  it('shows marks, readings and errors turned, and keeps the dial as it is printed', () => {
    const state = shown('degF', sweepStarted, readingOf(1, 90));
    expect(state.gauge.unit).toBe('degF');
    expect(state.gauge.marks.map((mark) => [mark.label, mark.reading])).toEqual([
      ['122', 122],
      ['194', 194],
      ['248', 248],
    ]);
    expect(state.gauge.divisionReading).toBe(9);
    expect(state.readings[0]?.reading).toBe(194);
    expect(state.printed?.unit).toBe('degC');
  });

  it('is the same when it is shown twice, and when nothing else was asked for', () => {
    const state = shown('degF', sweepStarted, readingOf(1, 90));
    expect(inShownUnit(state)).toBe(state);
    const plain = stateAfter(sweepStarted);
    expect(inShownUnit(plain)).toBe(plain);
  });

  it('leaves what cannot be turned as it is', () => {
    expect(shown('furlong').gauge.unit).toBe('degC');
  });

  it('turns the points of a sender whose description was taken back as those of any other', () => {
    const point = {
      kind: 'sender-point',
      senderId: 'a',
      value: 90,
      resistanceOhm: 70,
      source: 'box',
    } as const;
    const state = shown('degF', { ...point, pointId: 'p1' });
    expect(state.senders).toEqual([]);
    expect(state.senderPoints[0]?.value).toBe(194);
  });

  it('shows what was typed in that unit exactly as it was typed', () => {
    fc.assert(
      fc.property(onTheDial, (reference) => {
        // At 110 degC an engine is switched off, and no pair is read.
        fc.pre(reference < 229);
        const command = jobCommand.parse({
          kind: 'add-proof-pair',
          state: 'as-found',
          reference,
          referenceUncertainty: 0.9,
          indicated: 194.1,
          leg: 'up',
          unit: 'degF',
        });
        const runs = { kind: 'safety-confirmed', confirmation: 'engine-runs', sentence: 'out' } as const;
        const level = { ...runs, confirmation: 'coolant-level' } as const;
        const before = stateAfter(runs, level, { kind: 'job-changed', shownUnit: 'degF' });
        const meant = understood(before, command);
        if (meant.kind === 'refused') throw new Error(meant.message);
        if (meant.command.kind !== 'add-proof-pair') throw new Error('another command');
        expect(meant.command.indicated).toBeCloseTo((194.1 - 32) / 1.8, 9);
        const bodies = decide({ state: before, events: [], by: 'laptop' }, meant.command);
        if ('kind' in bodies) throw new Error(bodies.message);
        const state = shown('degF', ...withGiven(bodies, meant.given, command));
        expect(state.proofPairs[0]?.reference).toBe(reference);
        expect(state.proofPairs[0]?.indicated).toBe(194.1);
      }),
    );
  });
});

describe('a command in a unit', () => {
  it('is kept in the dial\u2019s own, with what was typed beside it', () => {
    const meant = understood(stateAfter(), {
      kind: 'record-as-found',
      state: 'hot',
      indicated: 212,
      reference: 194,
      unit: 'degF',
    });
    expect(meant).toEqual({
      kind: 'understood',
      command: { kind: 'record-as-found', state: 'hot', indicated: 100, reference: 90 },
      given: { unit: 'degF', numbers: { indicated: 212, reference: 194 } },
    });
  });

  it('in the dial\u2019s own unit, or in none, is taken as it is', () => {
    const bare = { kind: 'give-reading', stepId: 's1', reading: 90 } as const;
    expect(understood(stateAfter(), { ...bare, unit: 'degC' })).toEqual({
      kind: 'understood',
      command: bare,
    });
    expect(understood(stateAfter(), bare)).toEqual({ kind: 'understood', command: bare });
  });

  it('in a unit that means nothing here is refused', () => {
    const meant = understood(stateAfter(), { kind: 'give-reading', stepId: 's1', reading: 90, unit: 'psi' });
    expect(meant).toMatchObject({ kind: 'refused', code: 'UNIT_UNKNOWN' });
  });

  it('goes to the sender\u2019s own unit, each row of a table with its own number', () => {
    const described = {
      kind: 'sender-described',
      senderId: 'a',
      title: 'a',
      model: 'unknown',
      unit: 'degC',
    } as const;
    const command = {
      kind: 'import-sender-points',
      senderId: 'a',
      source: 'import',
      from: 'table.csv',
      unit: 'degF',
      points: [
        { row: 2, value: 104, resistanceOhm: 400 },
        { row: 3, value: 212, resistanceOhm: 50 },
      ],
    } as const;
    const state = stateAfter(described);
    const meant = understood(state, jobCommand.parse(command));
    if (meant.kind === 'refused' || meant.command.kind !== 'import-sender-points') throw new Error('refused');
    const bodies = decide({ state, events: [], by: 'laptop' }, meant.command);
    if ('kind' in bodies) throw new Error(bodies.message);
    const events = withGiven(bodies, meant.given, jobCommand.parse(command));
    expect(
      events.map((each) => (each.kind === 'sender-point' ? [each.value, each.given, each.remark] : [])),
    ).toEqual([
      [40, { unit: 'degF', numbers: { value: 104 } }, 'table.csv, row 2'],
      [100, { unit: 'degF', numbers: { value: 212 } }, 'table.csv, row 3'],
    ]);
  });

  it('carries the unit of the screen it comes from, and no other', () => {
    const shown = inShownUnit(stateAfter({ kind: 'job-changed', shownUnit: 'degF' }));
    const bare = { kind: 'give-reading', stepId: 's1', reading: 90 } as const;
    expect(inShownUnits(bare, shown)).toEqual({ ...bare, unit: 'degF' });
    expect(inShownUnits({ kind: 'undo' }, shown)).toEqual({ kind: 'undo' });
  });

  it('about a sender is in the unit in which the screen shows that sender, whatever the dial is in', () => {
    for (const unit of ['degF', 'L'] as const) {
      const described = { kind: 'sender-described', senderId: 'a', title: 'a', model: 'unknown' } as const;
      const state = stateAfter({ ...described, unit });
      const typed = {
        kind: 'add-sender-point',
        senderId: 'a',
        value: 200,
        resistanceOhm: 70,
        source: 'person',
      } as const;
      expect(understood(state, inShownUnits(typed, inShownUnit(state)))).toEqual({
        kind: 'understood',
        command: typed,
      });
    }
  });
});

describe('the shown unit', () => {
  it('is refused when the dial cannot be shown in it', () => {
    expect(
      decide({ state: stateAfter(), events: [], by: 'laptop' }, { kind: 'change-job', shownUnit: 'bar' }),
    ).toMatchObject({
      kind: 'refused',
      code: 'UNIT_UNKNOWN',
    });
    expect(
      decide({ state: stateAfter(), events: [], by: 'laptop' }, { kind: 'change-job', shownUnit: 'degF' }),
    ).toEqual([{ kind: 'job-changed', shownUnit: 'degF' }]);
  });

  it('changes nothing that is kept: the same readings, the same places to go', () => {
    const plain = stateAfter(sweepStarted, readingOf(1, 90));
    const { shownUnit, lastN, lastAt, ...changed } = stateAfter(sweepStarted, readingOf(1, 90), {
      kind: 'job-changed',
      shownUnit: 'degF',
    });
    const { lastN: n, lastAt: at, ...kept } = plain;
    expect(shownUnit).toBe('degF');
    expect(changed).toEqual(kept);
  });
});

describe('the present moment in another unit', () => {
  const frame: LiveFrame = {
    jobId: 'j1',
    lastN: 3,
    link: { state: 'live', simulated: false },
    box: { state: 'driving' },
    output: { madeOhm: 114 },
    waiting: { kind: 'answer', stepId: 'w1s1', wants: 'needle', mark: 90, unattendedInMs: 1000 },
    step: { stepId: 'w1s1', leg: 'up', aim: { kind: 'mark', reading: 90 }, why: 'plan' },
    present: [],
  };

  it('seeks the same mark under its other number, and leaves the ohms alone', () => {
    const shown = inShownUnit(stateAfter({ kind: 'job-changed', shownUnit: 'degF' }));
    expect(frameInUnit(frame, shown)).toEqual({
      ...frame,
      waiting: { ...frame.waiting, mark: 194 },
      step: { ...frame.step, aim: { kind: 'mark', reading: 194 } },
    });
    expect(frameInUnit(frame, stateAfter())).toBe(frame);
  });

  it('starts a seek on the dial\u2019s own marks whatever unit they were chosen in', () => {
    const choice = { mode: 'seek', readings: [122, 194, 248] } as const;
    const meant = understood(stateAfter(), jobCommand.parse({ kind: 'start-sweep', choice, unit: 'degF' }));
    expect(meant).toMatchObject({ command: { choice: { readings: [50, 90, 120] } } });
  });

  it('asks of a network, and keeps one, in the dial\u2019s own unit', () => {
    const options = { senderId: 'a', from: 122, to: 248, weights: [{ reading: 194, weight: 2 }] };
    expect(understood(stateAfter(), { kind: 'request-trim', options, unit: 'degF' })).toMatchObject({
      command: { options: { from: 50, to: 120, weights: [{ reading: 90, weight: 2 }] } },
    });
    const candidate = { topology: 'none', parts: [], worstError: -5.4, rmsError: 1.8 } as const;
    expect(
      understood(stateAfter(), { kind: 'choose-trim', candidate: { ...candidate, parts: [] }, unit: 'degF' }),
    ).toMatchObject({ command: { candidate: { worstError: -3, rmsError: 1 } } });
    const limit = { kind: 'size', size: 9 } as const;
    expect(understood(stateAfter(), { kind: 'set-proof-limit', limit, unit: 'degF' })).toMatchObject({
      command: { limit: { kind: 'size', size: 5 } },
    });
  });
});

describe('what must be said before a step that can hurt', () => {
  const at = (quantity: 'temperature' | 'fuel' | 'pressure' | 'other', place: 'car' | 'bench') => {
    const { gauge, ...rest } = stateAfter();
    return { ...rest, gauge: { ...gauge, quantity }, place };
  };

  it('is nothing on a bench, and in a car what its coolant, oil or tank asks for', () => {
    for (const work of ['sender-wire', 'sender', 'proof'] as const) {
      for (const quantity of ['temperature', 'fuel', 'pressure', 'other'] as const)
        expect(confirmationsFor(work, at(quantity, 'bench'))).toEqual([]);
      expect(confirmationsFor(work, at('fuel', 'car'))).toEqual(['tank-closed']);
    }
    expect(confirmationsFor('sender', at('temperature', 'car'))).toEqual(['engine-cold', 'gauge-sender']);
    expect(confirmationsFor('sender-wire', at('temperature', 'car'))).toEqual(['gauge-sender']);
    expect(confirmationsFor('proof', at('temperature', 'car'))).toEqual([]);
    expect(confirmationsFor('engine-runs', at('temperature', 'car'))).toEqual(['engine-runs']);
    expect(confirmationsFor('sender', at('pressure', 'car'))).toEqual(['engine-cold', 'gauge-sender']);
    expect(confirmationsFor('proof', at('pressure', 'car'))).toEqual([]);
  });

  it('is asked once', () => {
    const sentence = 'The engine is cold.';
    const said = stateAfter({ kind: 'safety-confirmed', confirmation: 'engine-cold', sentence });
    expect(stillToConfirm('sender', stateAfter())).toEqual(['engine-cold', 'gauge-sender']);
    expect(stillToConfirm('sender', said)).toEqual(['gauge-sender']);
    expect(said.saidForSafety).toMatchObject([{ confirmation: 'engine-cold', sentence, by: 'laptop' }]);
  });
});
