import * as fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import { GrowingState } from '../../host/bench/growing-state';
import {
  curveReadings,
  currentStep,
  effectiveEvents,
  foldJob,
  foldNext,
  isUndoable,
  jobEvent,
  openSweep,
  ownNewest,
  runningSweep,
  type EventBody,
  type JobEvent,
} from '../../host/job';
import { opened, readingOf, stamped, sweepStarted } from './sample';

const stepNumber = fc.integer({ min: 1, max: 4 });
const undoableOrNot: fc.Arbitrary<EventBody> = fc.oneof(
  fc.tuple(stepNumber, fc.integer({ min: 40, max: 130 })).map(([step, value]) => readingOf(step, value)),
  stepNumber.map((step): EventBody => ({ kind: 'reading-struck', readingId: `r${step}`, reason: 'slip' })),
  stepNumber.map((step): EventBody => ({ kind: 'reading-restored', readingId: `r${step}` })),
  stepNumber.map((step): EventBody => ({ kind: 'step-skipped', stepId: `w1s${step}` })),
  fc.integer({ min: 1, max: 30 }).map((undoes): EventBody => ({ kind: 'undone', undoes })),
  fc.constant<EventBody>({ kind: 'sweep-paused', sweepId: 'w1', reason: 'tea' }),
  fc.constant<EventBody>({ kind: 'sweep-resumed', sweepId: 'w1' }),
  fc.constant<EventBody>({ kind: 'box-lost', reason: 'unplugged' }),
  fc.constant<EventBody>({ kind: 'note', text: 'dash lights on' }),
  fc.constant<EventBody>({
    kind: 'tripped',
    faultCode: 33,
    code: 'CURRENT_HIGH',
    reason: 'output opened',
    measured: 300,
    limit: 250,
  }),
  fc.constant<EventBody>({ kind: 'trip-cleared' }),
);
const anyJournal = fc
  .array(undoableOrNot, { maxLength: 30 })
  .map((bodies) => stamped([opened, sweepStarted, ...bodies]));

const withoutStamps = (events: readonly JobEvent[]) => {
  const state = foldJob(events);
  return state === undefined ? undefined : { ...state, lastN: 0, lastAt: '' };
};

describe('the fold', () => {
  it('answers nothing for a journal that does not open a job', () => {
    expect(foldJob([])).toBeUndefined();
    expect(foldJob(stamped([sweepStarted]))).toBeUndefined();
  });

  it('gives the same state event by event as all at once, as long as nothing is taken back', () => {
    fc.assert(
      fc.property(anyJournal, (journal) => {
        const [first, ...rest] = journal.filter((event) => event.kind !== 'undone');
        if (first === undefined) throw new Error('a journal has an opening');
        const start = foldJob([first]);
        if (start === undefined) throw new Error('an opening folds');
        expect(rest.reduce(foldNext, start)).toEqual(foldJob([first, ...rest]));
      }),
    );
  });

  it('gives the same state however a journal with undos grows, from wherever it was opened', async () => {
    const long = fc.array(
      fc.oneof(
        undoableOrNot,
        fc.nat(200).map((undoes): EventBody => ({ kind: 'undone', undoes: undoes + 1 })),
      ),
      { minLength: 60, maxLength: 200 },
    );
    await fc.assert(
      fc.asyncProperty(
        long,
        fc.array(fc.integer({ min: 1, max: 40 }), { minLength: 1 }),
        async (bodies, parts) => {
          const journal = stamped([opened, sweepStarted, ...bodies]);
          let length = parts[0]!;
          const growing = await GrowingState.of(journal.slice(0, length));
          for (const part of parts.slice(1)) {
            const added = journal.slice(length, length + part);
            length += added.length;
            growing?.add(journal.slice(0, length), added);
            expect(growing?.now).toEqual(foldJob(journal.slice(0, length)));
          }
        },
      ),
    );
  });

  it('of a long journal is made in slices, with room for the box in between', async () => {
    // A lent clock: each look at it is a millisecond later, so that eight events are a slice on every machine.
    let nowMs = 0;
    const clock = vi.spyOn(performance, 'now').mockImplementation(() => (nowMs += 1));
    let gaps = 0;
    let isDone = false;
    const beside = (): void => {
      gaps += 1;
      if (!isDone) setImmediate(beside);
    };
    setImmediate(beside);
    const journal = stamped([
      opened,
      ...Array.from({ length: 400 }, () => ({ kind: 'note', text: 'a' }) as const),
    ]);
    const growing = await GrowingState.of(journal);
    isDone = true;
    clock.mockRestore();
    expect(growing?.now).toEqual(foldJob(journal));
    expect(gaps).toBeGreaterThan(20);
  });

  it('never changes its input and never throws', () => {
    fc.assert(
      fc.property(anyJournal, (journal) => {
        const before = JSON.stringify(journal);
        expect(foldJob(journal)).toBeDefined();
        expect(JSON.stringify(journal)).toBe(before);
      }),
    );
  });

  it('is after an undo what it was without the undone event', () => {
    fc.assert(
      fc.property(anyJournal, fc.nat(), (journal, pick) => {
        const candidates = effectiveEvents(journal).filter(isUndoable);
        const target = candidates[pick % Math.max(1, candidates.length)];
        fc.pre(target !== undefined);
        const undo = stamped([...journal, { kind: 'undone', undoes: target.n }]).at(-1)!;
        const without = effectiveEvents(journal).filter((event) => event.n !== target.n);
        // Taking back an `undone` brings its event back, so it is compared with the journal that never had it.
        const expected = target.kind === 'undone' ? journal.filter((e) => e.n !== target.n) : without;
        expect(withoutStamps([...journal, undo])).toEqual(withoutStamps(expected));
      }),
    );
  });

  it('is after undoing an undo what it was before both', () => {
    fc.assert(
      fc.property(anyJournal, (journal) => {
        const target = ownNewest(journal, 'laptop');
        fc.pre(target !== undefined);
        const both = stamped([
          ...journal,
          { kind: 'undone', undoes: target.n },
          { kind: 'undone', undoes: journal.length + 1 },
        ]).slice(journal.length);
        expect(withoutStamps([...journal, ...both])).toEqual(withoutStamps(journal));
      }),
    );
  });

  it('counts the same readings in whatever order different readings are struck', () => {
    const read = [opened, sweepStarted, ...[1, 2, 3, 4].map((step) => readingOf(step, 60 + step))];
    fc.assert(
      fc.property(fc.uniqueArray(stepNumber), (steps) => {
        const strikes = (order: readonly number[]) =>
          order.map((step): EventBody => ({ kind: 'reading-struck', readingId: `r${step}`, reason: 'slip' }));
        const forwards = foldJob(stamped([...read, ...strikes(steps)]))!;
        const backwards = foldJob(stamped([...read, ...strikes([...steps].reverse())]))!;
        expect(curveReadings(forwards)).toEqual(curveReadings(backwards));
        expect(curveReadings(forwards)).toHaveLength(4 - steps.length);
        expect(forwards.readings).toHaveLength(4);
      }),
    );
  });

  it('puts a step back in the queue when its reading is taken back', () => {
    const journal = stamped([opened, sweepStarted, readingOf(1, 50), { kind: 'undone', undoes: 3 }]);
    expect(currentStep(openSweep(foldJob(journal)!))?.stepId).toBe('w1s1');
  });

  it.each<[string, EventBody]>([
    ['a trip', { kind: 'tripped', faultCode: 1, code: 'X', reason: 'hot', measured: 2, limit: 1 }],
    ['a lost box', { kind: 'box-lost', reason: 'unplugged' }],
    ['the stop control', { kind: 'stopped', outcome: 'box-confirmed-open' }],
    ['a second sweep', { ...sweepStarted, sweepId: 'w2' }],
  ])('leaves the running sweep paused after %s', (_what, body) => {
    const state = foldJob(stamped([opened, sweepStarted, body]))!;
    expect(state.sweeps[0]?.status.kind).toBe('paused');
    expect(runningSweep(state)?.sweepId).not.toBe('w1');
  });

  it('says SIMULATED for good once a simulated box was connected', () => {
    const box = { firmware: '0.1.0', calibrationId: 1, calibrationDay: 1 };
    const state = foldJob(
      stamped([
        opened,
        { kind: 'box-connected', boxSerial: 1, simulated: true, ...box },
        { kind: 'box-connected', boxSerial: 2, simulated: false, ...box },
      ]),
    )!;
    expect(state.simulated).toBe(true);
  });

  it('survives its own JSON', () => {
    fc.assert(
      fc.property(anyJournal, (journal) => {
        const parsed = journal.map((event) => jobEvent.parse(JSON.parse(JSON.stringify(event))));
        expect(parsed).toEqual(journal);
        expect(JSON.parse(JSON.stringify(foldJob(parsed)))).toEqual(
          JSON.parse(JSON.stringify(foldJob(journal))),
        );
      }),
    );
  });
});

describe('the sender a trim is about', () => {
  const described = (senderId: string, forTrim?: true): EventBody => ({
    kind: 'sender-described',
    senderId,
    title: senderId,
    model: 'unknown',
    unit: 'degC',
    ...(forTrim === undefined ? {} : { forTrim }),
  });
  const requested = (senderId: string): EventBody => ({ kind: 'trim-requested', options: { senderId } });
  const about = (...bodies: EventBody[]) => foldJob(stamped([opened, ...bodies]))?.trimSenderId;

  it('is that of the newest request, or one added for the trim since; one added to compare is not', () => {
    expect(about(described('a'))).toBeUndefined();
    expect(about(described('a'), requested('a'), described('b'))).toBe('a');
    expect(about(described('a'), requested('a'), described('b', true))).toBe('b');
    expect(about(described('a'), requested('a'), described('b', true), requested('a'))).toBe('a');
    expect(about(described('a'), requested('a'), described('b', true), { kind: 'undone', undoes: 4 })).toBe(
      'a',
    );
  });
});
