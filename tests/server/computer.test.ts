import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { describe, expect, it } from 'vitest';
import { createComputer } from '../../host/server/findings/computer';
import { compute } from '../../host/server/findings/findings';
import { reckonInThread } from '../../host/server/in-thread';
import type { FindingTask } from '../../host/server/findings/tasks';
import { coolantGauge } from '../job/sample';
import { foldJob } from '../../host/job/state/fold';
import { foundAndMeasured, sampleDesk } from '../e2e/sample-job';
import { FakeBench } from '../support/fake-bench';
import { ManualClock } from '../support/manual-clock';

/** A thread that answers each task only when it is told to, on a channel of this test. */
const slowThread = (channel: string): URL => {
  const file = join(mkdtempSync(join(tmpdir(), 'needlewright-thread-')), 'thread.mjs');
  const program = `
    import { parentPort, BroadcastChannel } from 'node:worker_threads';
    const told = new BroadcastChannel(${JSON.stringify(channel)});
    const waiting = [];
    told.onmessage = () => { const id = waiting.shift(); if (id !== undefined) parentPort.postMessage({ id, answer: { id } }); };
    parentPort.on('message', ({ id }) => { waiting.push(id); told.postMessage('has ' + id); });
  `;
  writeFileSync(file, program);
  return pathToFileURL(file);
};

const task: FindingTask = {
  kind: 'curve',
  gauge: { ...coolantGauge, marks: [...coolantGauge.marks] },
  readings: [],
};

describe('the thread that computes', () => {
  it('gives each task its whole minute, however long it waited for those before it', async () => {
    const channel = new BroadcastChannel('needlewright computer test');
    const begun: string[] = [];
    channel.onmessage = ({ data }) => void begun.push(String(data));
    const clock = new ManualClock();
    const reckoner = reckonInThread(slowThread(channel.name), clock);
    const settled: string[] = [];
    const ask = (name: string): Promise<unknown> =>
      reckoner.reckon(task).then(
        () => settled.push(`${name} answered`),
        (reason: unknown) => settled.push(`${name} ${String(reason)}`),
      );
    const all = ['first', 'second', 'hangs', 'last'].map(ask);
    const work = async (number: number): Promise<void> => {
      await expect.poll(() => begun).toContain(`has ${number}`);
      await clock.advance(50_000);
      channel.postMessage('answer');
      await expect.poll(() => settled.length).toBe(number);
    };
    await work(1);
    await work(2);
    await expect.poll(() => begun).toContain('has 3');
    await clock.advance(60_001);
    await expect.poll(() => begun).toContain('has 4');
    channel.postMessage('answer');
    await Promise.all(all);
    expect(settled).toEqual([
      'first answered',
      'second answered',
      'hangs Error: the computation took too long',
      'last answered',
    ]);
    channel.close();
    await reckoner.close();
  });
});

describe('what was computed', () => {
  const measured = async () => {
    const desk = await sampleDesk(new FakeBench());
    foundAndMeasured(desk);
    const state = foldJob(desk.events);
    if (state === undefined) throw new Error('no state');
    return state;
  };

  it('is computed once while nothing changes, and anew after it failed', async () => {
    const state = await measured();
    let count = 0;
    const computer = createComputer({
      reckon: (task) => {
        count += 1;
        return count === 1
          ? Promise.reject(new Error('the thread was ended'))
          : Promise.resolve(compute(task));
      },
      close: () => Promise.resolve(),
    });
    expect(await computer.findings(state)).toMatchObject({ kind: 'refused', code: 'COMPUTING_FAILED' });
    const found = await computer.findings(state);
    expect('check' in found && found.check).toBeTruthy();
    expect(await computer.findings(state)).toEqual(found);
    expect(count).toBe(2);
  });
});
