import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import type { NeighbourCell } from '../../host/core/cluster';
import { suspectOf } from '../../host/core/cluster';
import { answered } from '../support/answer';
import { clusterBench, type ClusterSetUp } from './simulated-cluster';
import { addRow } from './table';

/** Answers then take about as long as beside needles that are not hurried. */
const NEEDLE_SPEED = 5;
const MINUTE_MS = 60_000;
const minutes = (ms: number): string => `${(ms / MINUTE_MS).toFixed(1)} min`;

async function on<Answer>(
  setUp: ClusterSetUp,
  work: (bench: Awaited<ReturnType<typeof clusterBench>>) => Promise<Answer>,
): Promise<Answer> {
  const folder = await mkdtemp(join(tmpdir(), 'needlewright-cluster-'));
  const bench = await clusterBench(folder, setUp);
  try {
    return await work(bench);
  } finally {
    await bench.close();
    await rm(folder, { recursive: true });
  }
}

/** Boxes, scatter and person are drawn anew with each. */
const SEEDS = [31, 47, 59];

it.each([
  [2, 0.55],
  [4, 0.32],
])('%i gauges swept together', async (count, most) => {
  const runs = [];
  for (const seed of SEEDS) {
    const setUp = { seed, count, needleSpeed: NEEDLE_SPEED };
    const how = { seed: seed + 1, mixUpProbability: 0 };
    const free = await on(setUp, (bench) => bench.sweep('free', how));
    const serial = await on(setUp, (bench) => bench.sweep('one-by-one', how));
    expect(free.tookMs).toBeGreaterThanOrEqual(free.leastMs);
    runs.push({ ratio: free.tookMs / serial.tookMs, free, serial });
  }
  const ratios = runs.map(({ ratio }) => ratio);
  const [first] = runs;
  if (first === undefined) throw new Error('no seed');
  const { free, serial } = first;
  addRow({
    part: 'cluster',
    what: `${count} thermal gauges: free against one by one, ${SEEDS.length} seeds`,
    measured: `${Math.min(...ratios).toFixed(3)} to ${Math.max(...ratios).toFixed(3)} (the first: ${minutes(free.tookMs)} against ${minutes(serial.tookMs)}; no order could take less than ${minutes(free.leastMs)}; a ready needle waited at most ${((free.queue.longestReadyMs * NEEDLE_SPEED) / 1_000).toFixed(0)} s; ${free.queue.readings.length} readings)`,
    goal: `at most ${most}`,
  });
});

it('readings of another needle', async () => {
  const total = { caught: 0, mixUps: 0, falseDoubts: 0, readings: 0 };
  for (const seed of SEEDS) {
    const { person, queue } = await on({ seed, count: 4, needleSpeed: NEEDLE_SPEED }, (bench) =>
      bench.sweep('free', { seed: seed + 2, mixUpProbability: 0.15 }),
    );
    total.caught += person.caught;
    total.mixUps += person.mixUps;
    total.falseDoubts += person.falseDoubts;
    total.readings += queue.readings.length;
  }
  addRow({
    part: 'cluster',
    what: 'readings of another needle that were asked back about, over all of them',
    measured: `${total.caught} of ${total.mixUps}; ${total.falseDoubts} of ${total.readings} doubted wrongly`,
  });
  expect(total.mixUps).toBeGreaterThan(0);
});

it('planted common resistances', async () => {
  const planted = Array.from({ length: 20 }, (_, at) => ({
    commonOhm: 0.25 + (0.75 * (at % 10)) / 9,
    isFeed: at % 2 === 0,
  }));
  let [found, placed] = [0, 0];
  let worst = 0;
  for (const [at, { commonOhm, isFeed }] of planted.entries()) {
    const common = isFeed ? { feedOhm: commonOhm } : { groundOhm: commonOhm };
    const cells: readonly NeighbourCell[] = answered(
      await on({ seed: 100 + at, count: 2, ...common }, (bench) => bench.neighbours()),
    );
    const suspect = suspectOf(cells);
    if (suspect === undefined) continue;
    found += 1;
    worst = Math.max(worst, Math.abs(suspect.commonOhm.value - commonOhm));
    if (suspect.where === (isFeed ? 'feed' : 'ground')) placed += 1;
  }
  addRow({
    part: 'cluster',
    what: 'planted common resistances of 0.25 to 1 ohm: found, and placed in feed or ground',
    measured: `${found} and ${placed} of ${planted.length}, worst ${worst.toFixed(3)} ohm off`,
    goal: 'at least 95 %',
  });
  expect(found / planted.length).toBeGreaterThanOrEqual(0.95);
});
