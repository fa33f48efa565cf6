import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { JobCommand } from '../../host/job';
import { commandLine } from '../support/command-line';
import { scratchFolder } from '../store/scratch';
import { opening, slowThermal, testBench, type TestBench } from './setup';

/** Alone, by a second screen, and by a program that names its source: all three are the same command to the host. */
const refusedToAll = async (t: TestBench, command: JobCommand): Promise<string[]> => [
  await t.refused(command),
  await t.refused(command, 'phone'),
  await t.refused(command, 'command line'),
];
const thrice = (code: string): string[] => [code, code, code];
const say = (confirmation: 'mechanism-unknown' | 'low-resistance'): JobCommand => ({
  ...{ kind: 'confirm-safety', confirmation },
});

/** A fuel gauge whose own sender has 73 ohm empty and 10 full; the new one, straight from 180 to 33. */
const tankGauge = {
  ...opening.gauge,
  quantity: 'fuel' as const,
  family: { lowEndOhm: 73, highEndOhm: 10 },
};
const sender = (lowOhm: number, highOhm: number): readonly JobCommand[] => [
  { kind: 'describe-sender', senderId: 's1', title: 'new', model: 'unknown', unit: 'degC' },
  {
    kind: 'import-sender-points',
    senderId: 's1',
    source: 'person',
    from: 'table.csv',
    points: [0, 1, 2, 3, 4].map((step) => ({
      row: step + 2,
      value: 50 + 17 * step,
      resistanceOhm: lowOhm + ((highOhm - lowOhm) * step) / 4,
    })),
  },
  { kind: 'request-trim', options: { senderId: 's1', gaugeOhm: 12.2 } },
];
type Part = { readonly place: string; readonly resistanceOhm: number };
const choose = (
  topology: 'none' | 'series' | 'shunt' | 'gauge-shunt',
  parts: readonly Part[],
): JobCommand => ({
  kind: 'choose-trim',
  candidate: { topology, parts: [...parts], worstError: 2 },
});
const across = choose('gauge-shunt', [{ place: 'across-gauge', resistanceOhm: 15 }]);
const series = (resistanceOhm: number): JobCommand => choose('series', [{ place: 'series', resistanceOhm }]);

describe('the current in a tank', () => {
  const withSender = async (lowOhm: number, highOhm: number): Promise<TestBench> => {
    const t = await testBench(slowThermal, { ...opening, gauge: tankGauge });
    for (const command of sender(lowOhm, highOhm)) await t.do(command);
    return t;
  };

  it('is never more than its maker let in: no part across the gauge, no sender of less ohms without a resistor', async () => {
    const t = await withSender(180, 33);
    expect(await refusedToAll(t, across)).toEqual(thrice('TANK_CURRENT'));
    expect(await t.refused(choose('shunt', [{ place: 'shunt', resistanceOhm: 30 }]))).toBe('accepted');
    const low = await withSender(90, 2);
    expect(await refusedToAll(low, series(4))).toEqual(thrice('TANK_CURRENT'));
    expect(await refusedToAll(low, choose('none', []))).toEqual(thrice('TANK_CURRENT'));
    // Nobody signs for it.
    await low.refused({ kind: 'sign-trim', reason: 'it was so in another one' });
    expect(await low.refused(series(4))).toBe('TANK_CURRENT');
    expect(await low.refused(series(8))).toBe('accepted');
  });

  const behindTheLead: JobCommand = {
    kind: 'say-working-current',
    senderId: 's1',
    method: 'flowing',
    lead: { volt: 5, ohm: 12.2 },
    readings: [
      { when: 'cold', senderVolt: 3.6 },
      { when: 'warm', senderVolt: 3.5 },
    ],
  };

  it('is reckoned by what stands behind the lead, where that was measured', async () => {
    const t = await withSender(180, 33);
    await t.do(behindTheLead);
    // Ohm's law: 5 V behind 12.2 ohm into 10 ohm are 225 mA; behind 12.2 beside 15 ohm into 33 ohm they are 126 mA.
    expect(await t.refused(across)).toBe('accepted');
    const low = await withSender(90, 12);
    await low.do(behindTheLead);
    // Into 12 ohm behind 6.73 they are 267 mA.
    expect(await refusedToAll(low, across)).toEqual(thrice('TANK_CURRENT'));
  });

  it('is no more than 10 mA of an ohmmeter', async () => {
    const t = await withSender(180, 33);
    const strong: JobCommand = {
      ...{ kind: 'capture-sender-point', senderId: 's1', value: 60, testMicroamp: 15_000 },
    };
    expect(await refusedToAll(t, strong)).toEqual(thrice('TEST_CURRENT'));
    expect(t.box.requests.filter(({ name }) => name === 'ohmmeter')).toEqual([]);
  });

  it('is refused at the command line, too', async () => {
    const folder = join(await scratchFolder(), 'tank');
    const lines = (...commands: readonly JobCommand[]): string =>
      commands.map((each) => JSON.stringify(each)).join('\n');
    const files = {
      'o.json': JSON.stringify({ ...opening, gauge: tankGauge }),
      'begin.ndjson': lines(...sender(180, 33)),
      'try.ndjson': lines(across),
    };
    await commandLine(['job', folder, '--open', 'o.json', '--tell', 'begin.ndjson'], files);
    const { code, err } = await commandLine(['job', folder, '--tell', 'try.ndjson'], files);
    expect(err).toContain('more current into the tank than its maker let in');
    expect(code).toBe(3);
  });
});

describe('a short', () => {
  const sweepTo = (...resistancesOhm: number[]): JobCommand => ({
    kind: 'start-sweep',
    choice: { mode: 'step-and-read', resistancesOhm, legs: 'down', repeats: 0, refinements: 0 },
  });

  it('is put on no heater, whatever is said', async () => {
    const t = await testBench();
    await t.do(say('low-resistance'));
    expect(await refusedToAll(t, sweepTo(0.5, 100))).toEqual(thrice('SHORT_NEVER'));
    const loaded: JobCommand = {
      ...{ kind: 'add-measurement', what: 'loaded-volt', value: 0.1, source: 'person', loadOhm: 0 },
    };
    expect(await refusedToAll(t, loaded)).toEqual(thrice('SHORT_NEVER'));
    await t.pass(10_000);
    expect(t.box.driven).toEqual([]);
  });

  it('is borne by coils with a ground of their own, and by no others', async () => {
    const coils = {
      ...opening.gauge,
      mechanism: 'two-coil' as const,
      family: { lowEndOhm: 0, highEndOhm: 90 },
    };
    const three = await testBench(slowThermal, { ...opening, gauge: { ...coils, terminals: 3 } });
    expect(await three.refused(sweepTo(1, 90))).toBe('accepted');
    const two = await testBench(slowThermal, { ...opening, gauge: { ...coils, terminals: 2 } });
    expect(await refusedToAll(two, sweepTo(1, 90))).toEqual(thrice('SHORT_NEVER'));
  });
});

describe('a heater past its stabiliser', () => {
  it('is not driven before the stabiliser is mended', async () => {
    const t = await testBench(slowThermal, { ...opening, place: 'car' });
    await t.do({ kind: 'answer-check', question: 'check-way', answer: 'box' });
    for (const command of [
      { kind: 'confirm-safety', confirmation: 'connected-ignition-off' },
      { kind: 'confirm-safety', confirmation: 'gauge-sender' },
      { kind: 'confirm-safety', confirmation: 'dash-open', airbagWaitMinutes: 0 },
      { kind: 'note-test', test: 'open-volt', value: 13.6, source: 'person' },
      { kind: 'note-test', test: 'stabiliser-ground', value: 0.1, source: 'person' },
      {
        ...{ kind: 'conclude-check', finding: 'stabiliser-fault', sentence: 'It is the stabiliser.' },
        evidence: [],
        diagnosed: { verdict: 'is', causes: ['stabiliser-closed'], way: 'box', seed: 1, notMeasured: [] },
      },
    ] satisfies readonly JobCommand[])
      await t.do(command);
    const sweep: JobCommand = { kind: 'start-sweep', choice: { mode: 'step-and-read' } };
    expect(await refusedToAll(t, sweep)).toEqual(thrice('PAST_STABILISER'));
    await t.pass(10_000);
    expect(t.box.driven).toEqual([]);
    await t.do({ kind: 'say-repaired', what: 'a new stabiliser' });
    expect(await t.refused(sweep)).toBe('accepted');
  });
});

describe('a gauge that nobody knows', () => {
  const unknown = { ...opening, gauge: { ...opening.gauge, mechanism: 'unknown' as const } };

  it('is sought on no mark before it was swept from the top', async () => {
    const t = await testBench(slowThermal, unknown);
    await t.do(say('mechanism-unknown'));
    const seek: JobCommand = { kind: 'start-sweep', choice: { mode: 'seek', fromOhm: 320, toOhm: 22 } };
    expect(await refusedToAll(t, seek)).toEqual(thrice('SEEK_NEEDS_FAMILY'));
    expect(t.box.driven).toEqual([]);
  });

  it('goes no lower than where its needle stood at the end of its scale: neither struck, nor begun anew', async () => {
    const t = await testBench(slowThermal, unknown);
    await t.do(say('mechanism-unknown'));
    await t.do({ kind: 'start-sweep', choice: { mode: 'step-and-read' } });
    await t.read();
    const stepId = await t.asked();
    const reached = t.desk.live.output.madeOhm ?? 0;
    // On the last mark, without a word of a stop.
    await t.do({ kind: 'give-reading', stepId, reading: 120 });
    await t.pass(200_000);
    expect(Math.min(...t.box.driven)).toBeGreaterThanOrEqual(0.99 * reached);
    const last = t.desk.state.readings.at(-1)?.readingId ?? '';
    await t.do({ kind: 'strike-reading', readingId: last, reason: 'try lower' });
    await t.refused({ kind: 'finish-sweep' });
    await t.do(
      {
        kind: 'start-sweep',
        choice: { mode: 'step-and-read', resistancesOhm: [reached / 3], legs: 'down', refinements: 0 },
      },
      'phone',
    );
    await t.pass(200_000);
    expect(Math.min(...t.box.driven)).toBeGreaterThanOrEqual(0.99 * reached);
    expect(t.desk.state.sweeps.at(-1)?.status.kind).toBe('paused');
  });
});
