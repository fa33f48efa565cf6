import { describe, expect, it } from 'vitest';
import { countedReadings } from '../../host/job';
import { methodWords } from '../../host/words/method';
import { testBench } from './setup';

const stepSweep = { kind: 'start-sweep', choice: { mode: 'step-and-read', refinements: 2 } } as const;
const MODEL = 'Harrow Six coolant gauge';

async function afterThree() {
  const t = await testBench();
  await t.do(stepSweep);
  for (let step = 0; step < 3; step += 1) await t.read();
  const ohms = countedReadings(t.desk.state).map(({ resistanceOhm }) => resistanceOhm);
  const [least, most] = [Math.min(...ohms), Math.max(...ohms)];
  return { t, least, between: [0.4, 0.8].map((part) => least * (most / least) ** part) };
}

describe('a short sweep', () => {
  it('reads where it was told and no more of its plan, and the record says so', async () => {
    const { t, between } = await afterThree();
    await t.do({ kind: 'shorten-sweep', looksLike: MODEL, resistancesOhm: between });
    for (const ohm of between) {
      await t.read();
      expect(countedReadings(t.desk.state).at(-1)!.resistanceOhm / ohm).toBeCloseTo(1, 1);
    }
    await t.pass(1_000);
    expect(t.desk.state.sweeps[0]).toMatchObject({
      status: { kind: 'finished', complete: true },
      short: { looksLike: MODEL },
    });
    expect(countedReadings(t.desk.state)).toHaveLength(5);
    expect(t.box.isOpen).toBe(true);
    expect(methodWords(t.desk.state)).toContain(
      `a short sweep, ended when the catalogue took it for ${MODEL}`,
    );
  });

  it('ends at once where the model is known already', async () => {
    const { t } = await afterThree();
    await t.do({ kind: 'shorten-sweep', looksLike: MODEL, resistancesOhm: [] });
    await t.pass(1_000);
    expect(t.desk.state.sweeps[0]?.status.kind).toBe('finished');
    expect(countedReadings(t.desk.state)).toHaveLength(3);
    expect(t.box.isOpen).toBe(true);
  });

  it('is taken back by undo: the plan goes on where it was left', async () => {
    const { t, between } = await afterThree();
    const before = await t.asked();
    await t.do({ kind: 'shorten-sweep', looksLike: MODEL, resistancesOhm: between });
    expect(await t.asked()).not.toBe(before);
    await t.do({ kind: 'undo' });
    expect(await t.asked()).toBe(before);
    expect(t.desk.state.sweeps[0]?.short).toBeUndefined();
    expect(methodWords(t.desk.state)).not.toContain('short');
  });

  it('is refused before three readings, without a sweep, and at less than was read', async () => {
    const short = (...resistancesOhm: number[]) =>
      ({ kind: 'shorten-sweep', looksLike: MODEL, resistancesOhm }) as const;
    const early = await testBench();
    expect(await early.refused(short())).toBe('NO_SWEEP');
    await early.do(stepSweep);
    await early.read();
    expect(await early.refused(short())).toBe('SHORT_SWEEP_TOO_EARLY');
    const { t, least } = await afterThree();
    expect(await t.refused(short(0.9 * least))).toBe('SHORT_SWEEP_OUTSIDE');
    expect(await t.refused(short(100_000))).toBe('SHORT_SWEEP_OUTSIDE');
    expect(t.desk.state.sweeps[0]?.short).toBeUndefined();
  });
});
