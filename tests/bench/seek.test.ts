import { describe, expect, it } from 'vitest';
import { countedReadings } from '../../host/job';
import { randomSource } from '../../host/core/numeric/random';
import { coolantReading, testBench, type TestBench } from './setup';

type Answer = 'below' | 'above' | 'on';

/** Answers seeks until the sweep is over; `see` is what this person makes of the needle's distance from the mark. */
const seekThrough = async (t: TestBench, see: (off: number) => Answer): Promise<number> => {
  let answers = 0;
  const isOver = () => t.desk.state.sweeps.at(-1)?.status.kind === 'finished';
  while (await t.pass(900_000, () => t.waiting.kind === 'answer' || isOver())) {
    const { waiting } = t;
    if (waiting.kind !== 'answer') break;
    expect(waiting.wants).toBe('needle');
    await t.do({
      kind: 'give-needle',
      stepId: waiting.stepId,
      needle: see(t.box.look() - (waiting.mark ?? 0)),
    });
    answers += 1;
  }
  return answers;
};

const sharpEye = (off: number): Answer => (Math.abs(off) < 0.4 ? 'on' : off < 0 ? 'below' : 'above');
const seekSweep = (readings: number[], legs: 'both' | 'up' | 'down' = 'both') =>
  ({ kind: 'start-sweep', choice: { mode: 'seek', readings, legs } }) as const;

describe('seeking marks', () => {
  it('finds each mark on each leg, and shows hysteresis as two legs and not as scatter', async () => {
    const t = await testBench();
    await t.do(seekSweep([70, 90, 110]));
    const answers = await seekThrough(t, sharpEye);
    const readings = countedReadings(t.desk.state);
    expect(readings.map(({ reading, leg }) => [leg, reading])).toEqual([
      ['up', 70],
      ['up', 90],
      ['up', 110],
      // Each end is read twice; a heater is not driven past it to turn.
      ['up', 110],
      ['down', 90],
      ['down', 70],
    ]);
    for (const { resistanceOhm, reading, leg, method } of readings) {
      expect(method).toBe('seek');
      // Coming from below the needle lags by the friction of 0.5, from above it leads; the eye is good to 0.4.
      const law = coolantReading(resistanceOhm);
      expect(Math.abs(law - reading - (leg === 'up' ? 0.5 : -0.5))).toBeLessThan(0.45);
    }
    expect(answers).toBeLessThan(5 * 8);
    expect(t.box.isOpen).toBe(true);
  });

  it('finds them with a person who slips and sees badly', async () => {
    const t = await testBench();
    const random = randomSource(11);
    const tired = (off: number): Answer => {
      const seen = sharpEye(off + 0.5 * random.normal());
      if (random.uniform() > 0.05 || seen === 'on') return seen;
      return seen === 'below' ? 'above' : 'below';
    };
    await t.do(seekSweep([60, 75, 90, 105]));
    await seekThrough(t, tired);
    const readings = countedReadings(t.desk.state);
    expect(readings).toHaveLength(8);
    for (const { resistanceOhm, reading } of readings) {
      expect(Math.abs(coolantReading(resistanceOhm) - reading)).toBeLessThan(3);
    }
  });

  it('skips a mark that the needle cannot reach, and says how far it went', async () => {
    const t = await testBench();
    await t.do(seekSweep([118, 140], 'up'));
    await seekThrough(t, sharpEye);
    const skipped = t.desk.events.find((event) => event.kind === 'step-skipped');
    expect(skipped?.kind === 'step-skipped' ? skipped.reason : '').toMatch(
      /stays below 140 degC as far as 1[34]/,
    );
    expect(countedReadings(t.desk.state)).toHaveLength(1);
  });

  it('goes on with the same bracket after the program was started again in the middle of it', async () => {
    const t = await testBench();
    await t.do(seekSweep([90], 'up'));
    for (let answer = 0; answer < 3; answer += 1) {
      const stepId = await t.asked();
      await t.do({ kind: 'give-needle', stepId, needle: sharpEye(t.box.look() - 90) });
    }
    const seen = t.desk.state.sweeps[0]?.steps[0]?.seen.length ?? 0;
    await t.crash();
    const driven = t.box.driven.length;
    await t.pass(120_000);
    expect(t.box.driven).toHaveLength(driven);
    expect(t.desk.state.sweeps[0]?.steps[0]?.seen).toHaveLength(seen);
    await t.do({ kind: 'resume-sweep' });
    await seekThrough(t, sharpEye);
    const [reading] = countedReadings(t.desk.state);
    expect(Math.abs(coolantReading(reading?.resistanceOhm ?? 0) - 90.5)).toBeLessThan(0.5);
  });

  it('asks for the needle and not for a number', async () => {
    const t = await testBench();
    await t.do(seekSweep([90], 'up'));
    const stepId = await t.asked();
    expect(await t.refused({ kind: 'give-reading', stepId, reading: 90 })).toBe('OTHER_ANSWER');
  });

  it('is refused while nobody knows which resistance belongs to which end of the dial', async () => {
    const t = await testBench();
    const { family, ...gauge } = t.desk.state.gauge;
    expect(family).toBeDefined();
    await t.do({ kind: 'change-job', gauge });
    expect(await t.refused(seekSweep([90]))).toBe('SEEK_NEEDS_FAMILY');
  });
});
