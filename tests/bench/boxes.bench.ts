import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { HeldBox } from '../../host/bench/cluster/held-box';
import { openBench, systemBenchClock } from '../../host/bench';
import { keepLink, portFinder } from '../../host/link';
import { hasSocat } from '../support/pty';
import { startProgram, urlOf } from '../support/running-host';
import { watchedBox, type WatchedBox } from '../support/watched-box';
import { addRow } from './table';

const SERIALS = [2041, 2042, 2043, 2044] as const;
const ROUNDS = 50;
const HARMLESS_OHM = 300;
const SETTLED_MS = 4_000;
const KILOBYTE = 1_024;

const quantile = (values: readonly number[], part: number): number => {
  const sorted = [...values].sort((one, other) => one - other);
  return sorted[Math.min(sorted.length - 1, Math.floor(part * sorted.length))] ?? NaN;
};

describe.runIf(hasSocat())('four boxes at four pseudo-terminals', () => {
  const folder = mkdtempSync(join(tmpdir(), 'needlewright-boxes-bench-'));
  const cables: WatchedBox[] = [];
  beforeAll(async () => {
    for (const serial of SERIALS) cables.push(await watchedBox('two-coil-fuel', serial, serial));
  });
  afterAll(async () => {
    for (const cable of cables) await cable.unplug();
    rmSync(folder, { recursive: true, force: true });
  });

  it('a stop of all', async () => {
    const links = cables.map(({ path }) => keepLink(portFinder(path)));
    const [link, ...furtherLinks] = links;
    if (link === undefined) throw new Error('no cable');
    const bench = openBench({ jobsFolder: join(folder, 'jobs'), link, furtherLinks });
    await expect.poll(() => links.map(({ state }) => state)).toEqual(links.map(() => 'live'));
    const boxes = bench.boxes().map(({ box }) => box);
    const clock = systemBenchClock;
    const round = async (which: readonly (typeof boxes)[number][]): Promise<number[]> => {
      const { signal } = new AbortController();
      const held = which.map((box) => new HeldBox({ box, kind: 'magnetic', clock, signal }));
      for (const each of held) expect(await each.hold(HARMLESS_OHM)).toBe('made');
      const sinceMs = performance.now();
      const took = await Promise.all(
        boxes.map(async (box) => {
          const opened = await box.open();
          return which.includes(box) && opened === 'open' ? [performance.now() - sinceMs] : [];
        }),
      );
      await Promise.all(held.map((each) => each.end()));
      return took.flat();
    };
    const all: number[] = [];
    for (let count = 0; count < ROUNDS; count += 1) all.push(...(await round(boxes)));
    expect(all).toHaveLength(ROUNDS * boxes.length);
    await cables[0]?.freeze();
    const beside: number[] = [];
    for (let count = 0; count < ROUNDS; count += 1) beside.push(...(await round(boxes.slice(1))));
    expect(beside).toHaveLength(ROUNDS * (boxes.length - 1));
    await cables[0]?.thaw();
    await bench.close();
    await Promise.all(links.map((each) => each.close()));
    const told = (values: readonly number[]): string =>
      `p99 ${quantile(values, 0.99).toFixed(0)} ms (median ${quantile(values, 0.5).toFixed(0)} ms, ${values.length} stops)`;
    addRow({
      part: 'cluster',
      what: 'STOP confirmed open by each of four boxes, over pseudo-terminals',
      measured: told(all),
      goal: 'p99 below 200 ms',
    });
    addRow({
      part: 'cluster',
      what: 'the same by three while the line of the fourth is dead',
      measured: told(beside),
      goal: 'p99 below 200 ms',
    });
  });

  it('memory of the host', async () => {
    const residentMegabyte = async (count: number): Promise<number> => {
      const ports = cables.slice(0, count).flatMap(({ path }) => ['--port', path]);
      const jobs = join(folder, `jobs-${count}`);
      const host = startProgram(['serve', ...ports, '--listen', '127.0.0.1:0', '--jobs', jobs, '--json']);
      await urlOf(host);
      await new Promise((resolve) => setTimeout(resolve, SETTLED_MS));
      const status = readFileSync(`/proc/${host.child.pid ?? 0}/status`, 'utf8');
      host.child.kill('SIGTERM');
      await host.ended;
      return Number(/VmRSS:\s+(\d+) kB/.exec(status)?.[1]) / KILOBYTE;
    };
    const one = await residentMegabyte(1);
    const four = await residentMegabyte(SERIALS.length);
    addRow({
      part: 'cluster',
      what: 'memory of the host with four boxes against one',
      measured: `${four.toFixed(0)} MB against ${one.toFixed(0)} MB: ${((four - one) / (SERIALS.length - 1)).toFixed(1)} MB a box`,
      goal: 'below 15 MB a box',
    });
  });
});
