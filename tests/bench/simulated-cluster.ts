import { join } from 'node:path';
import { Clusters, openBench, type OpenJob } from '../../host/bench';
import { clusterPerson } from '../../host/bench/cluster/cluster-person';
import type { Member } from '../../host/bench/cluster/member';
import { neighbourTest } from '../../host/bench/cluster/neighbour-test';
import { ReadingQueue } from '../../host/bench/cluster/reading-queue';
import { rollCall, type NeedleMoved } from '../../host/bench/cluster/roll-call';
import { sweepTogether, type SweepOrder } from '../../host/bench/cluster/sweep-together';
import { leastRunMs } from '../../host/core/cluster';
import type { Gauge } from '../../host/job';
import { keepLink } from '../../host/link';
import { ClusterBoxes } from '../../firmware-ts/board/simulated/cluster/boxes';
import { simulatedCluster } from '../../firmware-ts/board/simulated/cluster/clusters';
import { describeGauge } from '../../firmware-ts/board/simulated/describe';
import { deskOf } from './setup';
import { runUntil, VirtualClock } from './virtual-clock';

const TICK_MS = 5;
const TODAY = 20_500;
const BY = 'test';

export type ClusterSetUp = {
  readonly name?: string;
  readonly count?: number;
  readonly order?: readonly number[];
  readonly seed: number;
  readonly needleSpeed?: number;
  readonly feedOhm?: number;
  readonly groundOhm?: number;
  readonly isBatteryLeadOnBench?: boolean;
};

/** Boxes at one simulated cluster, a bench and an open job for each gauge, all in one virtual time. */
export async function clusterBench(folder: string, setUp: ClusterSetUp) {
  const { name = 'thermal-cluster', seed, needleSpeed = 60 } = setUp;
  const cluster = simulatedCluster(name);
  if (cluster === undefined) throw new Error(name);
  const clock = new VirtualClock();
  const received: ((bytes: Uint8Array) => void)[] = [];
  const boxes = new ClusterBoxes({
    cluster,
    count: setUp.count ?? cluster.gauges.length,
    ...(setUp.order === undefined ? {} : { order: setUp.order }),
    seed,
    speed: needleSpeed,
    calibrationDay: TODAY - 30,
    sent: (box, bytes) => received[box]?.(bytes.slice()),
  });
  Object.assign(boxes.circuit.common, {
    feedOhm: setUp.feedOhm ?? 0,
    groundOhm: setUp.groundOhm ?? 0,
    isBatteryLeadOnBench: setUp.isBatteryLeadOnBench ?? true,
  });
  const tick = (): void => {
    boxes.advance(TICK_MS);
    clock.after(TICK_MS, tick);
  };
  tick();
  let nonce = seed;
  const links = boxes.boxes.map((_, box) =>
    keepLink(
      () =>
        Promise.resolve({
          title: `box ${box}`,
          connect: (listener) => {
            received[box] = (bytes) => listener.received(bytes);
            return Promise.resolve({
              write: (bytes) => boxes.receive(box, bytes),
              close: () => Promise.resolve(),
            });
          },
        }),
      // Another number at every opening: a box takes an old greeting for an old line.
      { clock, makeNonce: () => (nonce += 1), today: () => TODAY },
    ),
  );
  const [link, ...furtherLinks] = links;
  if (link === undefined) throw new Error('no box');
  const jobsFolder = join(folder, 'jobs');
  const bench = openBench({ jobsFolder, link, furtherLinks, clock, needleSpeed });
  const clusters = new Clusters({ jobsFolder, bench, clock, screenClock: clock, needleSpeed });
  const pass = (withinMs: number, isDone?: () => boolean) =>
    runUntil(clock, () => Promise.resolve(), { withinMs, ...(isDone ? { isDone } : {}) });
  /** Lets time pass until a promise is settled. */
  const until = async <Value>(work: Promise<Value>, withinMs = 40_000_000): Promise<Value> => {
    const over = { done: false };
    const settled = work.finally(() => (over.done = true));
    await pass(withinMs, () => over.done);
    return settled;
  };
  await pass(5_000, () => links.every(({ state }) => state === 'live'));
  /** By gauge of the cluster: the box on it, its job, its place. */
  const gauges = [...boxes.gaugeOf.entries()].sort((one, other) => one[1] - other[1]);
  const jobs: {
    readonly place: string;
    readonly desk: OpenJob;
    readonly gauge: Gauge;
    readonly at: number;
  }[] = [];
  for (const [, at] of gauges) {
    const { place, gauge } = cluster.gauges[at]!;
    const opening = {
      title: gauge.title,
      gauge: gaugeOf(gauge),
      vehicle: cluster.title,
      place: 'bench' as const,
      simulated: true,
    };
    const desk = await deskOf(bench.createJob(opening, BY));
    jobs.push({ place, desk, gauge: opening.gauge, at });
  }
  const needleOf = (jobId: string) => {
    const at = jobs.find(({ desk }) => desk.jobId === jobId)?.at;
    const box = boxes.gaugeOf.indexOf(at ?? -1);
    return boxes.boxes[box]!.world.vehicle.needle;
  };
  const members = (): (Member & { readonly desk: OpenJob })[] =>
    jobs.map(({ place, desk, gauge, at }) => {
      const found = bench.boxes()[boxes.gaugeOf.indexOf(at)]!;
      bench.assignBox(desk.jobId, found.boxSerial);
      return { jobId: desk.jobId, place, gauge, box: found.box, desk };
    });
  const abort = new AbortController();
  const close = async (): Promise<void> => {
    await clusters.close();
    await bench.close();
    await Promise.all(links.map((each) => each.close()));
  };

  /** A person who sees every needle and says which one moved. */
  const callRoll = () => {
    let before: number[] = [];
    const angles = () => jobs.map(({ desk }) => needleOf(desk.jobId).angleFraction);
    return until(
      rollCall({
        gauges: jobs.map(({ desk, gauge }) => ({ jobId: desk.jobId, gauge })),
        boxes: bench.boxes().map(({ box, boxSerial = 0 }) => ({ box, boxSerial })),
        clock,
        needleSpeed,
        signal: abort.signal,
        about: () => (before = angles()),
        whichMoved: (): Promise<NeedleMoved> => {
          const moved = angles().map((angle, at) => Math.abs(angle - before[at]!));
          const clear = moved.flatMap((by, at) => (by > 0.04 ? [at] : []));
          const [at] = clear;
          if (at === undefined) return Promise.resolve({ nothing: 'none' });
          return Promise.resolve(clear.length > 1 ? { nothing: 'several' } : { jobId: jobs[at]!.desk.jobId });
        },
      }),
    );
  };

  const neighbours = () =>
    until(
      neighbourTest({
        members: members(),
        clock,
        signal: abort.signal,
        isBatteryLeadOnBench: setUp.isBatteryLeadOnBench ?? true,
        about: () => undefined,
      }),
    );

  /** Sweeps them with one person; times are the needle's own, ms. */
  const sweep = async (
    order: SweepOrder,
    how: { readonly mixUpProbability?: number; readonly seed: number },
  ) => {
    const swept = members();
    const queue = new ReadingQueue(
      swept.map(({ jobId, desk }) => ({ jobId, job: desk })),
      clock,
      needleSpeed,
    );
    const person = clusterPerson({
      jobs: swept.map(({ jobId, desk }) => ({ jobId, job: desk })),
      queue,
      look: needleOf,
      clock,
      needleSpeed,
      name: BY,
      ...how,
    });
    const sinceMs = clock.nowMs();
    const troubles: string[] = [];
    await until(
      sweepTogether({
        members: swept,
        due: new Set(swept.map(({ jobId }) => jobId)),
        order,
        choice: { mode: 'step-and-read' },
        by: BY,
        clock,
        queue,
        putInCluster: (jobId, place) => bench.putInCluster(jobId, place),
        cells: [],
        signal: abort.signal,
        trouble: (jobId, refused) => troubles.push(`${jobId}: ${refused.code}`),
      }),
    );
    const tookMs = (clock.nowMs() - sinceMs) * needleSpeed;
    person.leave();
    return { tookMs, leastMs: leastRunMs(queue.readings, person.changesMs), person, queue, troubles, swept };
  };
  return {
    jobsFolder,
    boxes,
    bench,
    clusters,
    needleOf: (at: number) => boxes.boxes[boxes.gaugeOf.indexOf(at)]!.world.vehicle.needle,
    jobs,
    links,
    callRoll,
    neighbours,
    sweep,
    members,
    pass,
    until,
    abort,
    close,
    clock,
  };
}

function gaugeOf(simulated: Parameters<typeof describeGauge>[0]): Gauge {
  const told = describeGauge(simulated);
  const gaps = told.marks.slice(1).map((mark, index) => mark.reading - told.marks[index]!.reading);
  return {
    quantity: told.quantity,
    mechanism: told.mechanism,
    unit: told.unit,
    marks: told.marks.map((mark) => ({ ...mark })),
    terminals: told.terminals,
    divisionReading: Math.min(...gaps) / 5,
    family: { lowEndOhm: told.originalSender[0]!.ohm, highEndOhm: told.originalSender.at(-1)!.ohm },
  };
}
