import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { JobCommand } from '../../host/job';
import { missingFromProof, proofVerdict } from '../../host/job/proof/proof';
import { proofRemarks } from '../../host/job/proof/proof-remarks';
import { plain } from '../../host/words/notation';
import { proofRemarkWords } from '../../host/words/proof';
import { commandLine } from '../support/command-line';
import { scratchFolder } from '../store/scratch';
import { opening, slowThermal, testBench, type TestBench } from './setup';

type Pair = Extract<JobCommand, { kind: 'add-proof-pair' }>;
const pair = (reference: number, indicated: number, more: Partial<Pair> = {}): Pair => ({
  ...{ kind: 'add-proof-pair', state: 'as-left', reference, referenceUncertainty: 0.3, indicated },
  ...{ leg: 'up', ...more },
});
const rule = (limit: Extract<JobCommand, { kind: 'choose-proof-rule' }>['limit'] = { kind: 'usual' }) =>
  ({ kind: 'choose-proof-rule', rule: 'guard', limit }) as const;
const cold = { kind: 'confirm-safety', confirmation: 'engine-cold', probeCelsius: 21 } as const;
const runs = { kind: 'confirm-safety', confirmation: 'engine-runs', heldMs: 3_000 } as const;
const level = { kind: 'confirm-safety', confirmation: 'coolant-level' } as const;
const nothing = { kind: 'say-fitted', fitted: 'nothing' } as const;

const inCar = async (): Promise<TestBench> => {
  const t = await testBench(slowThermal, { ...opening, place: 'car' });
  for (const command of [cold, runs, nothing]) await t.do(command);
  return t;
};

describe('limit and rule', () => {
  it('come before the first pair, whoever sends it', async () => {
    const t = await inCar();
    expect(await t.refused(pair(60, 60))).toBe('RULE_FIRST');
    expect(await t.refused(pair(60, 60), 'phone')).toBe('RULE_FIRST');
    expect(t.desk.state.proofPairs).toEqual([]);
    await t.do(rule());
    expect(await t.refused(pair(60, 60))).toBe('accepted');
  });

  it('stay once a pair was judged by them, and are chosen anew when the proof begins anew', async () => {
    const t = await inCar();
    await t.do(rule());
    await t.do(rule({ kind: 'sides', lower: -3, upper: 6 }));
    await t.do(pair(60, 60));
    expect(await t.refused({ ...rule(), rule: 'simple' })).toBe('RULE_STAYS');
    expect(await t.refused({ ...rule(), rule: 'simple' }, 'phone')).toBe('RULE_STAYS');
    await t.do(nothing);
    expect(await t.refused({ ...rule(), rule: 'simple' })).toBe('accepted');
  });

  it('come first on the command line too', async () => {
    const folder = join(await scratchFolder(), 'car');
    const lines = (...commands: readonly JobCommand[]): string =>
      commands.map((each) => JSON.stringify(each)).join('\n');
    const files = {
      'o.json': JSON.stringify({ ...opening, place: 'car' }),
      'begin.ndjson': lines(cold, nothing),
      'pair.ndjson': lines(pair(60, 60, { engine: 'off' })),
    };
    await commandLine(['job', folder, '--open', 'o.json', '--tell', 'begin.ndjson'], files);
    const { code, err } = await commandLine(['job', folder, '--tell', 'pair.ndjson'], files);
    expect(code).toBe(3);
    expect(err).toContain('Nobody chose yet by which limit and rule');
  });

  it('may be lopsided, are printed, and a limit wider than a needle is worth is refused', async () => {
    const t = await inCar();
    expect(await t.refused(rule({ kind: 'sides', lower: -1, upper: 40 }))).toBe('LIMIT_TOO_WIDE');
    await t.do(rule({ kind: 'sides', lower: -3, upper: 8 }));
    // U: half a division of 5 (rectangular) and 0.3 of the reference, twice: 2.95.
    await t.do(pair(60, 65));
    expect(proofVerdict(t.desk.state)?.verdict).toBe('within');
    await t.do(pair(60, 53.9, { leg: 'down' }));
    expect(proofVerdict(t.desk.state)?.verdict).toBe('outside');
    expect(proofRemarks(t.desk.state).map((each) => proofRemarkWords(each, 'degC', plain))[0]).toBe(
      'judged by a guard band as wide as the uncertainty, -3 to +8 degC where it is dangerous',
    );
  });

  it('want three places', async () => {
    const t = await inCar();
    await t.do(rule());
    await t.do(pair(60, 60));
    expect(missingFromProof(t.desk.state)).toContain('three-places');
  });
});

describe('what nobody reads on for', () => {
  it('is an engine at its limit, whatever the needle says and whoever asks', async () => {
    const t = await inCar();
    await t.do(rule());
    expect(await t.refused(pair(110, 110))).toBe('ENGINE_TOO_HOT');
    expect(await t.refused(pair(112, 90, { state: 'as-found' }), 'phone')).toBe('ENGINE_TOO_HOT');
    expect(await t.refused(pair(230, 230, { unit: 'degF' }))).toBe('ENGINE_TOO_HOT');
    expect(await t.refused(pair(110, 60), 'command line')).toBe('ENGINE_TOO_HOT');
    expect(await t.refused(pair(109, 109))).toBe('accepted');
    expect(t.desk.state.proofPairs).toHaveLength(1);
  });

  it('is a needle far below a warm reference, before somebody looked at the level', async () => {
    const t = await inCar();
    await t.do(rule());
    expect(await t.refused(pair(95, 60))).toBe('CONFIRM_FIRST');
    expect(await t.refused(pair(95, 60), 'phone')).toBe('CONFIRM_FIRST');
    expect(await t.refused(pair(95, 60), 'command line')).toBe('CONFIRM_FIRST');
    expect(t.desk.state.proofPairs).toEqual([]);
    await t.do(level);
    expect(await t.refused(pair(95, 60))).toBe('accepted');
  });

  it('is neither of them on a bench, nor a cold engine', async () => {
    const t = await inCar();
    await t.do(rule());
    expect(await t.refused(pair(60, 45.5))).toBe('accepted');
    const bench = await testBench(slowThermal, opening);
    for (const command of [nothing, rule()]) await bench.do(command);
    expect(await bench.refused(pair(115, 115))).toBe('accepted');
  });

  it('is a reference that measures nothing, or that still changes', async () => {
    const t = await inCar();
    await t.do(rule());
    expect(await t.refused(pair(82, 82, { referenceKind: 'thermostat' }))).toBe('REFERENCE_HINT');
    expect(await t.refused(pair(82, 82, { ratePerMinute: 1.2 }))).toBe('REFERENCE_CHANGES');
    expect(await t.refused(pair(82, 82, { referenceKind: 'flow-probe', ratePerMinute: 0.5 }))).toBe(
      'accepted',
    );
  });
});

describe('a pair', () => {
  const PHONE = 'phone';
  const all = async (t: TestBench, command: JobCommand): Promise<string[]> => [
    await t.refused(command),
    await t.refused(command, PHONE),
    await t.refused(command, 'command line'),
  ];
  const begun = async (): Promise<TestBench> => {
    const t = await testBench(slowThermal, { ...opening, place: 'car' });
    for (const command of [nothing, rule()]) await t.do(command);
    return t;
  };

  it('of a running engine wants hands held out within the minute before it, and so does one of nobody knows', async () => {
    const t = await begun();
    for (const each of [pair(60, 60), pair(60, 60, { engine: 'running' })])
      expect(await all(t, each)).toEqual(['CONFIRM_FIRST', 'CONFIRM_FIRST', 'CONFIRM_FIRST']);
    await t.do(runs);
    await t.do(pair(60, 60));
    t.clock.jump(t.clock.nowMs() + 61_000);
    expect(await all(t, pair(75, 75))).toEqual(['CONFIRM_FIRST', 'CONFIRM_FIRST', 'CONFIRM_FIRST']);
    expect(await t.refused(pair(75, 75, { engine: 'off' }))).toBe('accepted');
    expect(t.desk.state.proofPairs).toHaveLength(2);
  });

  it('read while the vehicle moves wants a driver and a reader, anew for each drive', async () => {
    const t = await begun();
    const moving = pair(80, 80, { engine: 'driving' });
    expect(await all(t, moving)).toEqual(['CONFIRM_FIRST', 'CONFIRM_FIRST', 'CONFIRM_FIRST']);
    const two = (driver: string, reader: string): JobCommand => ({
      ...{ kind: 'confirm-safety', confirmation: 'two-aboard', driver, reader },
    });
    expect(await all(t, two('Ada', 'ada '))).toEqual(['TWO_NAMES', 'TWO_NAMES', 'TWO_NAMES']);
    await t.do(two('Ada', 'Ben'));
    await t.do(moving);
    await t.do(pair(85, 85, { engine: 'driving', leg: 'down' }));
    // Standing again ends the drive.
    await t.do(pair(60, 60, { engine: 'off' }));
    expect(await all(t, moving)).toEqual(['CONFIRM_FIRST', 'CONFIRM_FIRST', 'CONFIRM_FIRST']);
    expect(t.desk.state.saidForSafety.at(-1)?.sentence).toMatch(/Drives: Ada. Reads: Ben./);
  });

  it('beside a probe in the flow wants the system said to have been opened cold', async () => {
    const t = await begun();
    await t.do(runs);
    const inFlow = pair(60, 60, { referenceKind: 'flow-probe' });
    expect(await all(t, inFlow)).toEqual(['CONFIRM_FIRST', 'CONFIRM_FIRST', 'CONFIRM_FIRST']);
    await t.do(cold);
    await t.do(runs);
    await t.do(inFlow);
    t.clock.jump(t.clock.nowMs() + 30 * 60_000);
    await t.do(runs);
    expect(await t.refused(pair(75, 75, { referenceKind: 'flow-probe' }))).toBe('accepted');
  });
});
