import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { JobCommand } from '../../host/job';
import { trimShut } from '../../host/job/proof/chain-gate';
import { proofRemarks } from '../../host/job/proof/proof-remarks';
import { plain } from '../../host/words/notation';
import { proofRemarkWords } from '../../host/words/proof';
import { commandLine } from '../support/command-line';
import { scratchFolder } from '../store/scratch';
import { coolantReading, opening, slowThermal, testBench, type TestBench } from './setup';

/** The sender this dial was drawn for, straight in ln R over degrees; invented. */
const ohmAt = (celsius: number): number => 320 * (22 / 320) ** ((celsius - 50) / 70);
const ohms = [300, 220, 160, 115, 84, 60, 44, 32, 25];

const readings: JobCommand = {
  kind: 'import-readings',
  from: 'table.csv',
  readings: ohms.flatMap((resistanceOhm, index) =>
    (['up', 'down'] as const).map((leg, side) => ({
      row: 2 + 2 * index + side,
      resistanceOhm,
      reading: Math.round(10 * coolantReading(resistanceOhm)) / 10,
      leg,
    })),
  ),
};
/** `less`: ohms fewer than the dial was drawn for, which one resistor in series makes good. */
const senderWith = (less: number): readonly JobCommand[] => [
  { kind: 'describe-sender', senderId: 's1', title: 'as fitted', model: 'unknown', unit: 'degC' },
  {
    kind: 'import-sender-points',
    senderId: 's1',
    source: 'person',
    from: 'bath.csv',
    points: [50, 60, 70, 80, 90, 100, 110, 120].map((value, index) => ({
      row: 2 + index,
      value,
      resistanceOhm: ohmAt(value) - less,
      valueUncertainty: 0.3,
      resistanceUncertaintyOhm: 0.01 * ohmAt(value),
    })),
  },
  { kind: 'request-trim', options: { senderId: 's1' } },
];
const sender = senderWith(0);
const choose: JobCommand = {
  kind: 'choose-trim',
  candidate: { topology: 'series', parts: [{ place: 'series', resistanceOhm: 18 }], worstError: 2 },
};
const asFound = (indicated: number, referenceUncertainty?: number): JobCommand => ({
  kind: 'record-as-found',
  state: 'engine just switched off',
  reference: 85,
  indicated,
  ...(referenceUncertainty === undefined ? {} : { referenceUncertainty }),
});
const test: JobCommand = { kind: 'test-chain' };

const inCar = async (): Promise<TestBench> => {
  const t = await testBench(slowThermal, { ...opening, place: 'car' });
  for (const command of [readings, ...sender]) await t.do(command);
  return t;
};
const whyNot = (t: TestBench): string | undefined => trimShut(t.desk.state);

describe('a resistor that would hide a fault', () => {
  it('is not chosen before anything was noted as found, alone or from a second screen', async () => {
    const t = await inCar();
    expect(await t.refused(choose)).toBe('TRIM_SHUT');
    expect(await t.refused(choose, 'phone')).toBe('TRIM_SHUT');
    expect(whyNot(t)).toBe('as-found');
    expect(await t.refused(test)).toBe('CHAIN_NEEDS_READING');
    await t.do(asFound(85));
    // A reading beside a reference of which nobody says how sure it is compares nothing.
    expect(await t.refused(test)).toBe('CHAIN_NEEDS_READING');
    expect(await t.refused(choose)).toBe('TRIM_SHUT');
    expect(t.desk.state.trimChosen).toBeUndefined();
  });

  it('is chosen after a chain test that agrees, and not before it', async () => {
    const t = await inCar();
    await t.do(asFound(85, 1));
    expect(whyNot(t)).toBe('chain');
    expect(await t.refused(choose)).toBe('TRIM_SHUT');
    await t.do(test);
    expect(t.desk.state.chainTested).toMatchObject({ faultRemains: false, senderId: 's1' });
    expect(t.desk.state.chainTested?.pairs[0]?.predicted).toBeCloseTo(85, 0);
    expect(await t.refused(choose)).toBe('accepted');
  });

  it('is not chosen while a fault remains, whoever asks; a later as-found reading wants a test of its own', async () => {
    const t = await inCar();
    await t.do(asFound(68, 1));
    await t.do(test);
    expect(t.desk.state.chainTested?.faultRemains).toBe(true);
    expect(t.desk.state.chainTested?.couldMean.length).toBeGreaterThan(0);
    expect(whyNot(t)).toBe('fault-remains');
    expect(await t.refused(choose)).toBe('TRIM_SHUT');
    expect(await t.refused(choose, 'phone')).toBe('TRIM_SHUT');
    await t.do(asFound(85, 1));
    expect(whyNot(t)).toBe('chain');
  });

  it('is not chosen over a fault that the check found since', async () => {
    const t = await inCar();
    await t.do(asFound(85, 1));
    await t.do(test);
    await t.do({ kind: 'conclude-check', finding: 'ground-fault', sentence: 'rust', evidence: [] });
    expect(whyNot(t)).toBe('finding');
    expect(await t.refused(choose)).toBe('TRIM_SHUT');
  });

  it('is chosen where somebody signs with a reason, which is printed; what comes after wants another', async () => {
    const t = await inCar();
    expect(await t.refused({ kind: 'sign-trim', reason: 'ok' })).toBe('SIGN_WITH_REASON');
    await t.do({ kind: 'sign-trim', reason: 'the car is abroad until June' }, 'Ada');
    await t.do(choose);
    expect(proofRemarks(t.desk.state).map((each) => proofRemarkWords(each, 'degC', plain))).toEqual([
      'a resistor was chosen although nothing was noted as found; signed by Ada: the car is abroad until June',
    ]);
    await t.do(asFound(68, 1));
    expect(await t.refused(choose)).toBe('TRIM_SHUT');
    await t.do(test);
    expect(await t.refused(choose)).toBe('TRIM_SHUT');
  });

  it('leaving everything as it is hides nothing, and on a bench there is no vehicle to compare with', async () => {
    const t = await inCar();
    const nothing: JobCommand = {
      kind: 'choose-trim',
      candidate: { topology: 'none', parts: [], worstError: 2 },
    };
    expect(await t.refused(nothing)).toBe('accepted');
    const bench = await testBench(slowThermal, opening);
    expect(await bench.refused(choose)).toBe('accepted');
    expect(await bench.refused({ kind: 'sign-trim', reason: 'no need of any' })).toBe('TRIM_OPEN');
  });

  it('is not chosen from the command line either', async () => {
    const folder = join(await scratchFolder(), 'car');
    const files = {
      'o.json': JSON.stringify({ ...opening, place: 'car' }),
      'c.ndjson': [readings, ...senderWith(12)].map((each) => JSON.stringify(each)).join('\n'),
      'choose.ndjson': JSON.stringify(choose),
    };
    const opened = await commandLine(['job', folder, '--open', 'o.json', '--tell', 'c.ndjson'], files);
    expect(opened.err).toBe('');
    const told = await commandLine(['job', folder, '--tell', 'choose.ndjson'], files);
    expect(told.code).toBe(3);
    expect(told.err).toContain('Trim is shut');
    const chosen = await commandLine(['job', folder, '--choose-trim'], files);
    expect(chosen.code).toBe(3);
    expect(chosen.err).toContain('Trim is shut');
  });
});
