import { describe, expect, it } from 'vitest';
import { testBench, type TestBench } from './setup';

const stepSweep = {
  kind: 'start-sweep',
  choice: { mode: 'step-and-read', refinements: 0, repeats: 0 },
} as const;
/** What the protocol's two bytes hold at most: a meter that was never read. */
const NEVER_READ_MS = 65_535;

const sweepingBench = async (): Promise<TestBench> => {
  const t = await testBench();
  await t.do(stepSweep);
  await t.asked();
  return t;
};

describe('what the box said a while ago', () => {
  it('is not shown as of now when its meter has fallen silent, nor kept beside a reading', async () => {
    const t = await sweepingBench();
    const before = t.desk.live.output;
    expect([before.volt, before.milliamp].every((each) => each !== undefined)).toBe(true);
    t.box.meterAgeMs = NEVER_READ_MS;
    await t.pass(300);
    const { volt, milliamp, watt } = t.desk.live.output;
    expect([volt, milliamp, watt]).toEqual([undefined, undefined, undefined]);
    await t.read();
    expect(t.desk.state.readings[0]?.currentMilliamp).toBeUndefined();
  });

  it('of one resistance vouches for no other: the ignition goes off while the next is made', async () => {
    const t = await sweepingBench();
    t.box.isFed = false;
    // Answered before the next heartbeat: the last one still says that the output is made.
    await t.do({ kind: 'give-reading', stepId: await t.asked(), reading: t.box.look() });
    await t.pass(20_000);
    const status = t.desk.state.sweeps[0]?.status;
    expect(status?.kind === 'paused' ? status.reason : '').toContain('No current flows');
    expect(t.box.isOpen).toBe(true);
  });

  it('of its parts does not outlive a calibration', async () => {
    const t = await sweepingBench();
    await t.do({ kind: 'pause-sweep' });
    t.box.calibrate();
    await t.do({ kind: 'resume-sweep' });
    await t.read();
    const [reading] = t.desk.state.readings;
    expect(t.box.driven).toContain(reading?.resistanceOhm);
  });
});
