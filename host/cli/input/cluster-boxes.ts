import { resolve } from 'node:path';
import { openBench, systemBenchClock, type Bench } from '../../bench';
import { MOST_BOXES } from '../../job/wire/host-messages';
import {
  guardLink,
  inOrder,
  keepLink,
  listPorts,
  portFinder,
  simulatedCluster,
  usbPorts,
  type BoxLink,
  type ClusterLook,
  type GuardedLink,
  type SimulatedCluster,
} from '../../link';
import { defaultJobsFolder } from '../../store';
import type { Surroundings } from '../command';
import { InputError } from '../input-error';
import type { Arguments } from '../options';

/** Clusters that the simulated boxes can stand at, and how many gauges each has. */
export const SIMULATED_CLUSTERS = { 'thermal-cluster': 4, 'pulsing-cluster': 4, 'mixed-cluster': 3 } as const;

export const jobsFolderOf = (given: Arguments, { environment }: Surroundings): string =>
  resolve(given.text('jobs') ?? defaultJobsFolder(environment));

/** Several boxes, each with its number, and the bench they are at. */
export type ClusterBench = {
  readonly bench: Bench;
  readonly boxes: readonly {
    readonly box: ReturnType<Bench['boxes']>[number]['box'];
    readonly boxSerial: number;
  }[];
  readonly simulated: SimulatedCluster | undefined;
  readonly needleSpeed: number;
  /** The last look at each simulated needle, by gauge. */
  readonly looks: ReadonlyMap<number, ClusterLook>;
  readonly end: () => Promise<void>;
};

const LIVE_WITHIN_MS = 8_000;
const LOOK_AGAIN_MS = 50;
const END_STEP_MS = 1_500;

/** Opens every box there is, or so many simulated ones; each output is opened first, however the program ends. */
export async function clusterBench(given: Arguments, surroundings: Surroundings): Promise<ClusterBench> {
  const name = given.text('simulate');
  const needleSpeed = name === undefined ? 1 : (given.number('speed') ?? (given.flag('auto') ? 60 : 1));
  const simulated = name === undefined ? undefined : simulatedFrom(name, given, needleSpeed);
  const found =
    simulated === undefined
      ? (await pathsFrom(given)).map((path) => ({
          title: `the box on ${path}`,
          link: keepLink(portFinder(path)),
        }))
      : simulated.sources.map((source) => ({
          title: source.title,
          link: keepLink(() => Promise.resolve(source)),
        }));
  const links = found.map(({ title, link }) => guarded(title, link, surroundings));
  const looks = new Map<number, ClusterLook>();
  simulated?.subscribeNeedles((look) => look.gauge !== undefined && looks.set(look.gauge, look));
  const [link, ...furtherLinks] = links;
  if (link === undefined) throw new InputError('no box is plugged in; name each with --port PATH');
  const bench = openBench({ jobsFolder: jobsFolderOf(given, surroundings), link, furtherLinks, needleSpeed });
  const end = async (): Promise<void> => {
    await surroundings.outputs.openAll('troubles');
    const steps = [
      { what: 'closing the jobs', work: () => bench.close() },
      { what: 'ending the links', work: () => Promise.all(links.map((each) => each.close())) },
      { what: 'ending the simulated boxes', work: async () => simulated?.stop() },
    ];
    for (const trouble of await inOrder(steps, END_STEP_MS)) surroundings.err(trouble);
  };
  try {
    const boxes = await liveBoxes(bench, links);
    return { bench, boxes, simulated, needleSpeed, looks, end };
  } catch (error) {
    await end();
    throw error;
  }
}

function guarded(title: string, link: BoxLink, { outputs }: Surroundings): GuardedLink {
  const guard = guardLink(link);
  outputs.add({ title, openForGood: () => guard.openForGood() });
  return guard;
}

function simulatedFrom(name: string, given: Arguments, speed: number): SimulatedCluster {
  const [, count = MOST_BOXES] = Object.entries(SIMULATED_CLUSTERS).find(([each]) => each === name) ?? [];
  const order = given.numbers('order');
  const cluster = simulatedCluster({
    cluster: name,
    boxCount: given.number('boxes') ?? order?.length ?? count,
    order,
    seed: given.number('seed'),
    speed,
  });
  const [feedOhm, groundOhm] = [given.number('common-feed-ohm'), given.number('common-ground-ohm')];
  const isBatteryLeadOnBench = given.text('battery-lead') === 'bench';
  const common = {
    isBatteryLeadOnBench,
    ...(feedOhm === undefined ? {} : { feedOhm }),
    ...(groundOhm === undefined ? {} : { groundOhm }),
  };
  return {
    ...cluster,
    // Told once its program runs: the first box to be connected starts it.
    sources: cluster.sources.map((source) => ({
      title: source.title,
      connect: async (listener) => {
        const connected = await source.connect(listener);
        cluster.tellWorld({ common });
        return connected;
      },
    })),
  };
}

async function pathsFrom(given: Arguments): Promise<readonly string[]> {
  const named = given.texts('port');
  const paths = named.length > 0 ? named : usbPorts((await listPorts()).ports).map(({ path }) => path);
  const twice = paths.find((path, at) => paths.indexOf(path) !== at);
  if (twice !== undefined) throw new InputError(`--port ${twice} is given twice; name each box once`);
  if (paths.length > MOST_BOXES)
    throw new InputError(`${paths.length} ports: at most ${MOST_BOXES} boxes at once; name them with --port`);
  return paths;
}

async function liveBoxes(bench: Bench, links: readonly GuardedLink[]): Promise<ClusterBench['boxes']> {
  const untilMs = systemBenchClock.nowMs() + LIVE_WITHIN_MS;
  while (links.some(({ state }) => state !== 'live') && systemBenchClock.nowMs() < untilMs)
    await new Promise<void>((resolve) => systemBenchClock.after(LOOK_AGAIN_MS, resolve));
  const silent = links.find(({ state }) => state !== 'live');
  if (silent !== undefined) throw new InputError(silent.problem?.message ?? 'a box does not answer');
  const boxes = bench
    .boxes()
    .flatMap(({ box, boxSerial }) => (boxSerial === undefined ? [] : { box, boxSerial }));
  const serials = boxes.map(({ boxSerial }) => boxSerial);
  const twice = serials.find((serial, at) => serials.indexOf(serial) !== at);
  if (twice !== undefined)
    throw new InputError(
      `two boxes call themselves number ${twice}: unplug one of them; none of the two is driven`,
    );
  return boxes;
}
