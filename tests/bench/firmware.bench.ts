import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { firmwareBundle } from '../../host/firmware-bundle.mjs';
import { figuresOf, settingsOf } from '../engine/accuracy';
import { capHeap } from '../engine/capped-heap';
import { budgets } from '../engine/chip-time/budgets';
import { figuresOf as budgetFigures, gauges, works } from '../engine/chip-time/figures';
import { ChipFirmware } from '../engine/chip-time/firmware';
import { faultKinds } from '../engine/fault-injection';
import { walkKinds } from '../engine/moves';
import { reportFigures, reportWalks } from '../engine/reports';
import { engineState } from '../engine/xsnap-install';
import { EngineEnded, XsnapWorker } from '../engine/xsnap-worker';
import { addRow } from './table';

const part = 'firmware';
const root = new URL('../..', import.meta.url).pathname;
const HEAP_CEILING_BYTES = 64 * 1024;
/** A slot is 16 bytes on a microcontroller. */
const MCU_SLOT_BYTES = 16;
const COMMANDS = 10_000;
const LOOKS = 24;
/** One event of the simulated world that waits or does not; nine thousand leaked slots would be seen. */
const PHASE_SLOTS = 8;
const STACK_SLOTS = 768;
const SLOT_SHARE = 0.55;
const WALKS = 1000;
const XS_BOXES = [100, 101, 102, 103];

const ask = async (worker: XsnapWorker, question: string): Promise<string> =>
  new TextDecoder().decode((await worker.command(new TextEncoder().encode(question))).bytes);

const row = (what: string, measured: string, goal?: string): void =>
  addRow({ part, what, measured, ...(goal === undefined ? {} : { goal }) });

it('is as large as it is', async () => {
  const { bytes, text } = await firmwareBundle(`${root}firmware-ts/main.ts`);
  row('bundle, minified', `${bytes} bytes`);
  row('bundle, gzip', `${gzipSync(text).length} bytes`);
});

it('makes what is asked and states what is true', () => {
  const settings = Array.from({ length: 25 }, (_, index) => settingsOf(100 + index, 120)).flat();
  const figures = figuresOf(settings);
  const percent = (value: number): string => `${(100 * value).toFixed(1)} %`;
  row('boxes x settings, 5 ohm to 6 kohm', `25 x 120`);
  row('made against asked, p99 of (0.5 ohm + 0.1 %)', percent(figures.madeAgainstAskedP99), '<= 100 %');
  row(
    'stated against true, worst of (0.15 ohm + 0.2 %)',
    percent(figures.statedAgainstTrueWorst),
    '<= 100 %',
  );
  row('stated uncertainty (k = 2) covers', percent(figures.coveredFraction), '>= 95 %');
  row('live V/I against true, worst', `${(100 * figures.measuredWorstFraction).toFixed(2)} %`);
  expect(figures.madeAgainstAskedP99).toBeLessThanOrEqual(1);
  expect(figures.statedAgainstTrueWorst).toBeLessThanOrEqual(1);
  expect(figures.coveredFraction).toBeGreaterThanOrEqual(0.95);
});

it('survives every injected fault', () => {
  const attempts = faultKinds.flatMap(([, run]) => run());
  const survived = attempts.filter(({ trouble }) => trouble === undefined);
  row('injected faults survived', `${survived.length} of ${attempts.length}`, 'all');
  expect(survived).toHaveLength(attempts.length);
});

describe.skipIf(engineState().kind === 'absent')('in the XS engine', () => {
  const folder = mkdtempSync(join(tmpdir(), 'needlewright-bench-'));
  const full = join(folder, 'full.xss');
  let script = '';

  beforeAll(async () => {
    script = (await firmwareBundle(`${root}tests/engine/xs-entry.ts`, { format: 'iife' })).text;
    const worker = XsnapWorker.start();
    await worker.evaluate(script);
    expect(await ask(worker, 'prepare/0')).toBe('prepared');
    await worker.evaluate('gc()');
    await worker.writeSnapshot(full);
    await worker.quit();
  });

  let growth: XsnapWorker | undefined;
  afterAll(() => growth?.quit());

  /** The world is met in a different phase each time: the fewest of several looks is what the box holds for good. */
  const fewestSlots = async (worker: XsnapWorker): Promise<number> => {
    const slots: number[] = [];
    for (let look = 0; look < LOOKS; look += 1) {
      await ask(worker, 'soak/4');
      slots.push((await worker.evaluate('gc()')).heapSlots);
    }
    return Math.min(...slots);
  };

  it('does not grow between command 1,000 and command 10,000', async () => {
    const worker = XsnapWorker.start();
    growth = worker;
    await worker.evaluate(script);
    expect(await ask(worker, 'boot/0')).toBe('it drives');
    await ask(worker, 'soak/1000');
    const early = await fewestSlots(worker);
    const { compute } = await worker.command(new TextEncoder().encode(`soak/${COMMANDS - 1000}`));
    const late = await fewestSlots(worker);
    row('heap slots after command 1,000 / 10,000', `${early} / ${late}`, 'no growth');
    row('bytecodes a command, simulated world included', `${Math.round(compute / (COMMANDS - 1000))}`);
    expect(late - early).toBeLessThanOrEqual(PHASE_SLOTS);
  });

  it('allocates nothing for a received byte', async () => {
    const worker = XsnapWorker.start();
    await worker.evaluate(script);
    await ask(worker, 'noise/1');
    const slotsFor = async (thousands: number): Promise<number> => {
      await worker.evaluate('gc()');
      const before = (await worker.evaluate('0')).heapSlots;
      await ask(worker, `noise/${thousands}`);
      return (await worker.evaluate('0')).heapSlots - before;
    };
    const few = await slotsFor(1);
    const many = await slotsFor(100);
    row('slots for 1,000 / 100,000 bytes, serial port to frame', `${few} / ${many}`, 'the same');
    await worker.quit();
    expect(many - few).toBeLessThanOrEqual(0);
  });

  /** Boots and works with so many bytes beyond what the loaded code takes; false when the engine runs out. */
  const livesIn = async (bytes: number): Promise<boolean> => {
    const capped = join(folder, 'capped.xss');
    // The stack is part of the heap a microcontroller has to give.
    const forHeap = bytes - STACK_SLOTS * MCU_SLOT_BYTES;
    const slots = Math.floor((SLOT_SHARE * forHeap) / MCU_SLOT_BYTES);
    capHeap(full, capped, {
      slots,
      chunkBytes: Math.floor((1 - SLOT_SHARE) * forHeap),
      stackSlots: STACK_SLOTS,
    });
    const worker = XsnapWorker.start({ snapshotFile: capped });
    try {
      return (
        (await ask(worker, 'boot/0')) === 'it drives' &&
        (await ask(worker, `soak/${COMMANDS}`)) === 'it drives'
      );
    } catch (reason) {
      if (reason instanceof EngineEnded) return false;
      throw reason;
    } finally {
      await worker.quit().catch(() => undefined);
    }
  };

  it('keeps its budgets of time on the chip', async () => {
    const firmware = await ChipFirmware.load();
    for (const gauge of gauges)
      for (const work of works) {
        const found = budgetFigures(firmware, work, gauge);
        const figures = budgets.map(([name]) => Math.round(found[name]));
        row(
          `median turn / longest / request / ms pulse / meter: ${work[0]}, ${gauge}`,
          figures.join(' / '),
          budgets.map(([, atMost]) => atMost).join(' / '),
        );
        for (const [name, atMost] of budgets) expect(found[name]).toBeLessThanOrEqual(atMost);
      }
    firmware.quit();
  });

  it('survives every injected fault, as in Node', async () => {
    const worker = XsnapWorker.start();
    await worker.evaluate(script);
    let tried = 0;
    for (const [kind, [name]] of faultKinds.entries()) {
      const told = await ask(worker, `faults/${kind}`);
      expect(told, name).toMatch(/^\d+ tried, all survived$/);
      tried += Number.parseInt(told, 10);
    }
    row('injected faults survived, in XS', `${tried} of ${tried}`, 'all');
    await worker.quit();
  }, 300_000);

  it('walks moves and makes resistances as Node does', async () => {
    const worker = XsnapWorker.start();
    await worker.evaluate(script);
    for (const [kind, name] of walkKinds.entries()) {
      const told = await ask(worker, `walk/${kind}/${WALKS}`);
      expect(told).toBe(reportWalks(kind, WALKS));
      const [tried, below] = told.split(',');
      row(
        `moves below the lower end, Node and XS: ${name}`,
        `${below} of ${tried}`,
        name === 'forced' ? 'many' : '0',
      );
    }
    let worst = [0, 0];
    for (const seed of XS_BOXES) {
      const told = (await ask(worker, `figures/${seed}/120`)).split(',').map(Number);
      reportFigures(seed, 120)
        .split(',')
        .forEach((figure, index) => expect(told[index]).toBeCloseTo(Number(figure), 6));
      worst = worst.map((value, index) => Math.max(value, told[index]!));
    }
    const percent = worst.map((value) => `${(100 * value).toFixed(1)} %`);
    row(`${XS_BOXES.length} boxes x 120 in XS, made p99 / stated worst`, percent.join(' / '), '<= 100 %');
    await worker.quit();
  }, 600_000);

  it('boots and does 10,000 commands in 64 KB of heap, stack and the garbage of the simulated world included', async () => {
    expect(await livesIn(HEAP_CEILING_BYTES)).toBe(true);
    let [enough, tooLittle] = [HEAP_CEILING_BYTES, 0];
    while (enough - tooLittle > 6 * 1024) {
      const middle = Math.round((enough + tooLittle) / 2);
      if (await livesIn(middle)) enough = middle;
      else tooLittle = middle;
    }
    row('smallest heap that survives 10,000 commands', `${(enough / 1024).toFixed(0)} KB`, '<= 64 KB');
  });
});
