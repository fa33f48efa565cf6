import { describe, expect, it } from 'vitest';
import { sweepSizeOf } from '../../host/job/state/sweep-size';
import { planSweep } from '../../host/bench/sweep/plan-sweep';
import { foldJob, type JobState, type SweepChoice } from '../../host/job';
import { stepWhyWords, sweepSizeWords } from '../../host/words/sweep';
import { opened, stamped } from './sample';

const jobState = (): JobState => foldJob(stamped([opened]))!;

const gauges = ['thermal', 'two-coil', 'electronic', 'unknown'] as const;
const choices: readonly SweepChoice[] = [
  { mode: 'step-and-read' },
  { mode: 'step-and-read', legs: 'down', pointCount: 11, repeats: 0 },
  { mode: 'step-and-read', resistancesOhm: [30, 90, 200], refinements: 0 },
  { mode: 'seek', fromOhm: 400, toOhm: 30 },
];

describe('what a sweep will take', () => {
  // Of a gauge that nobody knows no mark is sought before some readings say which way its needle goes.
  const unsought = { mechanism: 'unknown', mode: 'seek' } as const;
  it('is nothing for seeking on a gauge that nobody knows', () => {
    const { mode, mechanism } = unsought;
    const state = jobState();
    const plan = planSweep(
      { ...state, gauge: { ...state.gauge, mechanism } },
      { mode, fromOhm: 400, toOhm: 30 },
    );
    expect(plan).toMatchObject({ code: 'SEEK_NEEDS_FAMILY' });
  });

  it.each(
    gauges
      .flatMap((mechanism) => choices.map((choice) => ({ mechanism, choice })))
      .filter(({ mechanism, choice }) => mechanism !== unsought.mechanism || choice.mode !== unsought.mode),
  )('is what its plan then holds: $mechanism, $choice', ({ mechanism, choice }) => {
    const state = jobState();
    const gauge = { ...state.gauge, mechanism };
    const plan = planSweep({ ...state, gauge }, choice);
    if ('code' in plan) throw new Error(plan.code);
    const size = sweepSizeOf(gauge, choice);
    expect(size.readings).toBe(plan.steps.length);
    expect(size.mayAdd).toBe(plan.refinements);
  });

  // The cautious way round for what nobody knows (common practice, no source): from high ohms down.
  it.each(
    (['both', 'up', 'down'] as const).flatMap((legs) =>
      [
        { fromOhm: 400, toOhm: 30 },
        { fromOhm: 10, toOhm: 180 },
      ].map((ends) => ({ legs, ...ends })),
    ),
  )('starts an unknown gauge at the most ohms: $legs, $fromOhm to $toOhm', ({ legs, fromOhm, toOhm }) => {
    const state = jobState();
    const gauge = { ...state.gauge, mechanism: 'unknown' as const, family: undefined };
    const plan = planSweep({ ...state, gauge }, { mode: 'step-and-read', legs, fromOhm, toOhm });
    const ohms =
      'code' in plan
        ? []
        : plan.steps.map(({ aim }) => (aim.kind === 'resistance' ? aim.resistanceOhm : NaN));
    expect(ohms[0]).toBeCloseTo(Math.max(fromOhm, toOhm), 6);
    expect(ohms[0]).toBe(Math.max(...ohms));
  });

  // Six points up and six down, the middle twice more: 14 waits of a minute and some seconds to answer.
  it('is said in readings and minutes before the start', () => {
    const state = jobState();
    const size = sweepSizeOf({ ...state.gauge, mechanism: 'thermal' }, { mode: 'step-and-read' });
    expect(size).toEqual({ readings: 14, mayAdd: 1, minutes: 16, mostMinutes: 19 });
    expect(sweepSizeWords(size)).toBe(
      '14 readings, about 16 min. It may add 1 setting where the curve is least known: then up to 19 min.',
    );
  });

  // A heater never gets less than the least ohms of the sweep, so there both readings come from above.
  it.each([
    ['two-coil', ['down', 'up']],
    ['thermal', ['up', 'up']],
  ] as const)(
    'reads each end of a %s gauge twice: a single reading nobody can question',
    (mechanism, atLeast) => {
      const state = jobState();
      const choice = { mode: 'step-and-read', fromOhm: 400, toOhm: 30 } as const;
      const plan = planSweep({ ...state, gauge: { ...state.gauge, mechanism } }, choice);
      if ('code' in plan) throw new Error(plan.code);
      const legsAt = (end: number): string[] =>
        plan.steps.flatMap(({ aim, leg }) =>
          aim.kind === 'resistance' && aim.resistanceOhm === end ? [leg] : [],
        );
      expect(legsAt(400).sort()).toEqual(['down', 'up']);
      expect(legsAt(30).sort()).toEqual(atLeast);
    },
  );

  it('is told where a step was added, and why', () => {
    expect(stepWhyWords('plan')).toBeUndefined();
    expect(stepWhyWords('refine')).toContain('tells most');
    expect(stepWhyWords('edge')).toContain('begins or stops');
  });
});
