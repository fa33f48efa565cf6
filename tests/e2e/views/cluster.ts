import type { Gauge } from '../../../host/job/schema/gauge';
import type { NeighbourSaid } from '../../../host/job/schema/cluster-events';
import type { ClusterDoing } from '../../../host/job/wire/cluster-messages';
import type { FakeBench, FakeDesk } from '../../support/fake-bench';
import type { FakeCluster } from '../../support/fake-clusters';
import { sampleGauge } from '../sample-job';
import { BY, type View } from './view';

const even = (labels: readonly (readonly [string, number])[]): Gauge['marks'] =>
  labels.map(([label, reading], at) => ({ label, reading, angleFraction: at / (labels.length - 1) }));

/** Four gauges of an invented vehicle, from left to right. */
const GAUGES: readonly (readonly [place: string, gauge: Gauge])[] = [
  [
    'left',
    {
      quantity: 'fuel',
      mechanism: 'thermal',
      unit: '%',
      marks: even([
        ['E', 0],
        ['1/2', 50],
        ['F', 100],
      ]),
      family: { lowEndOhm: 240, highEndOhm: 20 },
    },
  ],
  ['centre left', { ...sampleGauge, family: { lowEndOhm: 455, highEndOhm: 45 } }],
  [
    'centre right',
    {
      quantity: 'pressure',
      mechanism: 'thermal',
      unit: 'bar',
      marks: even([
        ['0', 0],
        ['2', 2],
        ['4', 4],
        ['6', 6],
      ]),
      family: { lowEndOhm: 210, highEndOhm: 22 },
    },
  ],
  ['right', { ...sampleGauge, family: { lowEndOhm: 420, highEndOhm: 40 } }],
];
const VEHICLE = 'Harrow Six saloon (1964)';
const SERIALS = [1041, 1042, 1043, 1044];

const begun = (bench: FakeBench): Promise<FakeCluster> =>
  bench.clusters.begin({
    title: 'Cluster of 4',
    vehicle: VEHICLE,
    feed: { volt: 10, fuseAmpere: 2, stabiliser: 'electronic, 1 A', isBatteryLeadOnBench: true },
    simulated: false,
    gauges: GAUGES.map(([place, gauge]) => ({
      place,
      opening: { title: `Gauge, ${place}`, gauge, vehicle: VEHICLE, place: 'bench', simulated: false },
    })),
  });

/** Every box on the line, open. */
const plugged = (cluster: FakeCluster): void => {
  for (const { desk } of cluster.gauges)
    desk.show({ link: { state: 'live', simulated: false }, box: { state: 'safe' } });
  cluster.show({ boxes: SERIALS });
};

const called = (cluster: FakeCluster): void => {
  plugged(cluster);
  cluster.gauges.forEach(({ jobId }, at) =>
    cluster.append({ kind: 'berth-assigned', jobId, boxSerial: SERIALS[at]!, how: 'roll-call' }),
  );
  cluster.show({ isCalled: true });
};

/** The ground of two of them lifts a little when the third draws its most. */
const measured = (cluster: FakeCluster): void => {
  const cells = cluster.gauges.flatMap(({ jobId: movedJobId }, moved) =>
    cluster.gauges.flatMap(({ jobId: watchedJobId }, watched): NeighbourSaid[] =>
      moved === watched
        ? []
        : [
            {
              movedJobId,
              watchedJobId,
              percentOfArc: moved === 2 ? -0.31 : -0.04,
              uPercent: 0.03,
              commonOhm: { value: moved === 2 ? 0.21 : 0.03, u: 0.01 },
              groundOhm: { value: moved === 2 ? 0.2 : 0.03, u: 0.01 },
            },
          ],
    ),
  );
  cluster.append({ kind: 'neighbours-measured', cells });
};

const OHMS = [400, 220, 120, 66, 40];

/** A sweep whose needle stands by heat: percent of arc as I squared R falls. Invented, to have something to show. */
const sweptTo = (desk: FakeDesk, gauge: Gauge, count: number, isOver: boolean): void => {
  const steps = OHMS.map((resistanceOhm, at) => ({
    stepId: `w1up${at}`,
    leg: 'up' as const,
    aim: { kind: 'resistance' as const, resistanceOhm },
    why: 'plan' as const,
  }));
  const range = { fromOhm: 400, toOhm: 40, refinements: 0, settleMs: 60_000 };
  desk.append(
    { kind: 'sweep-started', sweepId: 'w1', mode: 'step-and-read', state: 'as-found', steps, ...range },
    BY,
  );
  const [first, last] = [gauge.marks[0]!.reading, gauge.marks.at(-1)!.reading];
  OHMS.slice(0, count).forEach((resistanceOhm, at) =>
    desk.append(
      {
        kind: 'reading',
        readingId: `r${at}`,
        sweepId: 'w1',
        stepId: `w1up${at}`,
        resistanceOhm,
        uncertaintyOhm: 0.02,
        leg: 'up',
        waitedMs: 60_000,
        method: 'step',
        reading: first + (last - first) * (0.05 + 0.9 * (at / (OHMS.length - 1)) ** 1.2),
      },
      BY,
    ),
  );
  if (isOver) desk.append({ kind: 'sweep-finished', sweepId: 'w1', complete: true }, BY);
};

const settling = (passedMs: number, stepId: string) => ({
  kind: 'settling' as const,
  stepId,
  settleMs: 60_000,
  passedMs,
  currentSettled: true,
  why: 'the needle of this kind of gauge needs 60 s to rest',
});

/** All four under way: the second is settled where it is asked, the others wait as long as `passedMs` says. */
const underWay = (cluster: FakeCluster, isAsked: boolean): void => {
  called(cluster);
  cluster.gauges.forEach(({ desk }, at) => {
    const [, gauge] = GAUGES[at]!;
    sweptTo(desk, gauge, 3, false);
    const isNext = at === 3;
    const stepId = 'w1up3';
    desk.show({
      box: { state: 'driving' },
      output: { askedOhm: 66, madeOhm: 66.02, measuredOhm: 66.1, volt: 4.9, milliamp: 74, watt: 0.36 },
      waiting:
        isAsked && (at === 1 || isNext)
          ? { kind: 'answer', stepId, wants: 'reading', unattendedInMs: 170_000 }
          : settling(52_000 - 12_000 * at, stepId),
      progress: { done: 3, total: 5, minutesLeft: 3 - at / 2 },
    });
  });
};

const waitersOf = (cluster: FakeCluster, wants: 'reading' | 'short-step' = 'reading') =>
  [1, 3].map((at, index) => ({
    jobId: cluster.gauges[at]!.jobId,
    wants: index === 0 ? wants : ('reading' as const),
  }));

const sweeping = (
  cluster: FakeCluster,
  part: Partial<Extract<ClusterDoing, { kind: 'sweep' }>> = {},
  reader?: string,
): void =>
  cluster.show({
    doing: { kind: 'sweep', order: 'free', waiters: waitersOf(cluster), ...part },
    ...(reader === undefined ? {} : { reader }),
  });

const over = (cluster: FakeCluster): void => {
  called(cluster);
  measured(cluster);
  cluster.gauges.forEach(({ desk }, at) => sweptTo(desk, GAUGES[at]![1], 5, true));
  cluster.gauges[2]!.desk.append(
    { kind: 'adjustment-made', what: 'pointer-moved', movedBy: 0.2, place: 'on its shaft' },
    BY,
  );
  cluster.append({
    kind: 'swept',
    order: 'free',
    minutes: 7.4,
    leastMinutes: 6.9,
    readings: 20,
    doubted: 1,
  });
};

const cluster =
  (fill: (cluster: FakeCluster) => void): View['make'] =>
  async (bench) => {
    const made = await begun(bench);
    fill(made);
    return `#/cluster/${made.clusterId}`;
  };

export const clusterViews: readonly View[] = [
  {
    name: 'cluster-new',
    make: () => Promise.resolve('#/clusters/new'),
    act: (page) => page.getByText('Gauges on my bench').click(),
  },
  {
    name: 'cluster-batch',
    make: async (bench) => {
      over(await begun(bench));
      return '#/clusters';
    },
    act: (page) => page.getByText('The table as CSV').waitFor(),
  },
  { name: 'cluster-boxes', make: cluster(() => undefined) },
  { name: 'cluster-call', make: cluster(plugged) },
  {
    name: 'cluster-moved',
    make: cluster((made) => {
      called(made);
      made.show({ doing: { kind: 'roll-call', called: 1, of: 4, boxSerial: 1042, isAsked: true } });
    }),
    act: (page) => page.getByText('which needle did?').waitFor(),
  },
  {
    name: 'cluster-neighbours',
    waits: 'the boxes measure by themselves',
    make: cluster((made) => {
      called(made);
      made.show({
        doing: { kind: 'neighbours', moved: 1, of: 4, movedJobId: made.gauges[1]!.jobId },
      });
    }),
    act: (page) => page.getByText('goes from end to end').waitFor(),
  },
  {
    name: 'cluster-start',
    make: cluster((made) => {
      called(made);
      measured(made);
    }),
    act: (page) => page.getByRole('button', { name: 'Start the sweep' }).waitFor(),
  },
  {
    name: 'cluster-wait',
    waits: 'all needles creep to their places',
    make: cluster((made) => {
      underWay(made, false);
      sweeping(made, { waiters: [] });
    }),
    act: (page) => page.getByText(/^Next:/).waitFor(),
  },
  {
    name: 'cluster-read',
    make: cluster((made) => {
      underWay(made, true);
      sweeping(made);
    }),
    act: (page) => page.getByText(/^Read temperature, centre left/).waitFor(),
  },
  {
    name: 'cluster-short',
    make: cluster((made) => {
      underWay(made, true);
      sweeping(made, { waiters: waitersOf(made, 'short-step') });
    }),
    act: (page) => page.getByText(/^Look at/).waitFor(),
  },
  {
    name: 'cluster-doubt',
    make: cluster((made) => {
      underWay(made, true);
      const [jobId, otherJobId] = [made.gauges[1]!.jobId, made.gauges[3]!.jobId];
      sweeping(made, { doubt: { jobId, otherJobId, reading: 97, stepId: 'w1up3' } });
    }),
    act: (page) => page.getByText(/^Did you read/).waitFor(),
  },
  {
    name: 'cluster-watching',
    make: cluster((made) => {
      underWay(made, true);
      sweeping(made, {}, 'phone 2');
    }),
    act: (page) => page.getByRole('button', { name: 'Take over here' }).waitFor(),
  },
  {
    name: 'cluster-sheet',
    make: cluster(over),
    act: (page) => page.getByText('pointer moved').first().waitFor(),
  },
];
