import { expect, it } from 'vitest';
import type { JobCommand } from '../../host/job';
import ratios from '../vectors/thermistor-ntc-ratio-table.json';
import { testBench, type TestBench } from './setup';

const R25_OHM = 1000;
/** A job with a sender by the published ratio table, on which somebody said that nothing is fitted. */
const readyForProof = async (): Promise<TestBench> => {
  const t = await testBench();
  await t.do({ kind: 'describe-sender', title: 'published', model: 'table', unit: 'degC' });
  const points = ratios.t_degC.flatMap((value, index) => {
    const resistanceOhm = R25_OHM * (ratios.ratio_R_over_R25[index] ?? NaN);
    return value < 40 || value > 130 ? [] : [{ row: index + 1, value, resistanceOhm }];
  });
  const senderId = t.desk.state.senders[0]?.senderId ?? '';
  await t.do({ kind: 'import-sender-points', senderId, source: 'datasheet', from: 'a table', points });
  await t.do({ kind: 'say-fitted', fitted: 'nothing' });
  await t.do({ kind: 'choose-proof-rule', rule: 'guard', limit: { kind: 'usual' } });
  return t;
};

const byBox = (resistanceOhm: number, by: 'box' | 'resistor' = 'box'): JobCommand => ({
  kind: 'add-proof-substitution',
  with: by,
  resistanceOhm,
  uncertaintyOhm: 0.1,
  indicated: 100,
  leg: 'up',
});
const told = async (t: TestBench, command: JobCommand): Promise<string> => {
  const result = await t.desk.submit(command, 'laptop');
  return result.kind === 'refused' ? `${result.code}: ${result.message}` : 'kept';
};

it('the box stands for a sender only while it makes those very ohms and the needle rests', async () => {
  const t = await readyForProof();
  expect(await told(t, byBox(50))).toMatch(/^BOX_MAKES_NOTHING: The output of the box is open/);
  expect(await told(t, byBox(50, 'resistor'))).toBe('kept');
  await t.do({ kind: 'start-sweep', choice: { mode: 'step-and-read', resistancesOhm: [50], repeats: 0 } });
  await t.pass(400_000, () => t.waiting.kind === 'settling');
  const madeOhm = t.desk.live.output.madeOhm ?? NaN;
  expect(await told(t, byBox(madeOhm))).toMatch(/^NOT_SETTLED/);
  await t.asked();
  expect(await told(t, byBox(madeOhm + 5))).toMatch(/^BOX_MAKES_OTHER_OHMS: The box makes 49\.87 ohm/);
  expect(await told(t, byBox(madeOhm))).toBe('kept');
  expect(t.desk.state.proofPairs.at(-1)?.substitute).toMatchObject({ with: 'box', resistanceOhm: madeOhm });
  await t.do({ kind: 'pause-sweep' });
  await t.pass(2_000);
  expect(await told(t, byBox(madeOhm))).toMatch(/^BOX_MAKES_NOTHING/);
});
