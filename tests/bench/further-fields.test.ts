import { describe, expect, it } from 'vitest';
import { testBench } from './setup';

const meter = { name: 'workshop meter', limitPercent: 0.8, limitOhm: 0.3 };

describe('what a person says beside the numbers', () => {
  it('reaches the journal through the bench, and can be taken back', async () => {
    const bench = await testBench();
    await bench.do({ kind: 'change-job', particulars: { customer: 'Harrow Motors' } });
    await bench.do({ kind: 'say-adjusted', what: 'pointer-moved', movedBy: 9, unit: 'degF' });
    const { particulars, adjustments } = bench.desk.state;
    expect(particulars).toEqual({ customer: 'Harrow Motors' });
    expect(adjustments).toMatchObject([{ movedBy: 5, given: { unit: 'degF', numbers: { movedBy: 9 } } }]);
    await bench.do({ kind: 'undo' });
    expect(bench.desk.state.adjustments).toEqual([]);
  });

  it('goes with a sweep, with a sender and with each point of its table', async () => {
    const bench = await testBench();
    await bench.do({ kind: 'confirm-safety', confirmation: 'connected-ignition-off' });
    await bench.do({
      kind: 'start-sweep',
      choice: { mode: 'step-and-read', state: 'as-found', dashCelsius: 21 },
    });
    await bench.do({
      kind: 'describe-sender',
      title: 'the old sender',
      model: 'table',
      unit: 'degC',
      serialNumber: '0417',
    });
    await bench.do({
      kind: 'import-sender-points',
      senderId: 'sender-1',
      source: 'import',
      from: 'bath.csv',
      ohmmeter: meter,
      points: [
        { row: 2, value: 50, resistanceOhm: 320, resistanceUncertaintyOhm: 1.6 },
        { row: 3, value: 90, resistanceOhm: 80 },
      ],
    });
    const { sweeps, senders, senderPoints } = bench.desk.state;
    expect(sweeps[0]).toMatchObject({ state: 'as-found', dashCelsius: 21 });
    expect(senders[0]).toMatchObject({ serialNumber: '0417' });
    expect(senderPoints).toMatchObject([
      { resistanceUncertaintyOhm: 1.6, ohmmeter: meter },
      { ohmmeter: meter },
    ]);
  });

  it('strikes no photograph that is not there', async () => {
    const bench = await testBench();
    expect(await bench.refused({ kind: 'strike-photograph', photographId: 'f1', reason: 'blurred' })).toBe(
      'NO_SUCH_ENTRY',
    );
  });
});
