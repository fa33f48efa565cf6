import { readFile } from 'node:fs/promises';
import { execFile } from 'node:child_process';
import { promisify } from 'node:util';
import { z } from 'zod';
import { explain, foldCluster, gauge, type ClusterState, type Opening } from '../../../job';
import { simulatedGauge } from '../../../job/wire/host-messages';
import { builtProgram } from '../../../link';
import { createCluster, createJobFolder, openCluster, type ClusterJournal } from '../../../store';
import type { Surroundings } from '../../command';
import { jobsFolderOf } from '../../input/cluster-boxes';
import { openingOfSimulated } from '../../input/sweep-options';
import { InputError } from '../../input-error';
import type { Arguments } from '../../options';
import { clusterJson, clusterText } from '../../output/cluster-text';
import { BY, must, mustBe, nowIso, schemaOf, type Action } from './action';

type Named = {
  readonly title: string;
  readonly vehicle: string;
  /** Of a cluster like it. */
  readonly feed?: ClusterState['feed'];
};

type Wanted = { readonly place: string; readonly opening: Opening };

const run = promisify(execFile);
const describedClusters = z.array(
  z.object({
    name: z.string(),
    title: z.string(),
    gauges: z.array(z.object({ place: z.string(), gauge: simulatedGauge })),
  }),
);

export type OpenedCluster = { readonly journal: ClusterJournal; readonly state: ClusterState };

/** Takes up a cluster that is there. */
export async function clusterNamed(
  clusterId: string,
  given: Arguments,
  surroundings: Surroundings,
): Promise<OpenedCluster> {
  const journal = must(await openCluster(jobsFolderOf(given, surroundings), clusterId, nowIso));
  const state = foldCluster(journal.events);
  if (state === undefined) {
    await journal.close();
    throw new InputError(`${clusterId} is no cluster: its journal does not begin with its opening`);
  }
  return { journal, state };
}

/** Makes a cluster with an ordinary job for each gauge. */
export async function newCluster(given: Arguments, surroundings: Surroundings): Promise<OpenedCluster> {
  const name = given.text('simulate');
  const simulated = name === undefined ? undefined : await simulatedWanted(name, given);
  const wanted = simulated?.wanted ?? (await wantedFrom(given));
  const title = given.text('title') ?? simulated?.title ?? 'Cluster on the bench';
  return openWith(
    wanted,
    { title, vehicle: given.text('vehicle') ?? simulated?.vehicle ?? 'not named' },
    given,
    surroundings,
  );
}

export async function openWith(
  wanted: readonly Wanted[],
  { title, vehicle, feed: feedBefore }: Named,
  given: Arguments,
  surroundings: Surroundings,
): Promise<OpenedCluster> {
  const jobsFolder = jobsFolderOf(given, surroundings);
  const [volt, fuseAmpere, stabiliser] = [
    given.number('feed-V'),
    given.number('fuse-A'),
    given.text('stabiliser'),
  ];
  const lead = given.text('battery-lead');
  const feed = {
    ...feedBefore,
    ...(volt === undefined ? {} : { volt }),
    ...(fuseAmpere === undefined ? {} : { fuseAmpere }),
    ...(stabiliser === undefined ? {} : { stabiliser }),
    ...(lead === undefined ? {} : { isBatteryLeadOnBench: lead === 'bench' }),
  };
  const simulated = wanted.every(({ opening }) => opening.simulated);
  const stamp = { atIso: nowIso(), by: BY };
  const { clusterId } = must(await createCluster(jobsFolder, { title, vehicle, simulated, feed }, stamp));
  const opened = await clusterNamed(clusterId, given, surroundings);
  for (const { place, opening } of wanted) {
    const { jobId } = must(await createJobFolder(jobsFolder, { ...opening, vehicle }, stamp));
    mustBe(await opened.journal.append([{ kind: 'gauge-added', jobId, place }], BY));
  }
  return { journal: opened.journal, state: foldCluster(opened.journal.events) ?? opened.state };
}

async function simulatedWanted(name: string, given: Arguments) {
  const program = builtProgram('cluster');
  if (program === undefined) throw new InputError('the simulated cluster is not built; run "npm run build"');
  const { stdout } = await run(process.execPath, [program, '--describe']);
  const described: unknown = JSON.parse(stdout);
  const cluster = describedClusters.parse(described).find((each) => each.name === name);
  if (cluster === undefined) throw new InputError(`the simulated boxes know no cluster ${name}`);
  const count = given.number('boxes') ?? given.numbers('order')?.length ?? cluster.gauges.length;
  const order = given.numbers('order') ?? cluster.gauges.map((_, at) => at);
  const used = [...order.slice(0, count)].sort((one, other) => one - other);
  const wanted = used.flatMap((at): Wanted[] => {
    const found = cluster.gauges[at];
    if (found === undefined) throw new InputError(`--order: ${name} has no gauge ${at}`);
    return [{ place: found.place, opening: openingOfSimulated(found.gauge, given) }];
  });
  return { wanted, title: cluster.title, vehicle: cluster.title.split(', ')[0] ?? cluster.title };
}

const fileShape = z.union([gauge, z.object({ gauge })]);

/** `--gauge FILE:PLACE`: a JSON file with what a job's opening says of its gauge, and where it sits. */
async function wantedFrom(given: Arguments): Promise<readonly Wanted[]> {
  const named = given.texts('gauge');
  if (named.length < 2)
    throw new InputError(
      'a cluster has two gauges or more: name each with --gauge FILE:PLACE, or use --simulate',
    );
  return Promise.all(named.map(gaugeAt));
}

async function gaugeAt(word: string): Promise<Wanted> {
  const at = word.lastIndexOf(':');
  const [file, place] = [word.slice(0, at), word.slice(at + 1).trim()];
  if (at <= 0 || place === '')
    throw new InputError(`--gauge ${word}: write the file, a colon and its place, such as fuel.json:left`);
  const text = await readFile(file, 'utf8').catch(() => {
    throw new InputError('there is no such file, or it cannot be read', { file });
  });
  const parsed = fileShape.safeParse(jsonOf(text, file));
  if (!parsed.success) throw new InputError(explain(parsed.error), { file });
  const described = 'gauge' in parsed.data ? parsed.data.gauge : parsed.data;
  const title = `${place}: ${described.quantity}`;
  return {
    place,
    opening: { title, vehicle: 'not named', place: 'bench', simulated: false, gauge: described },
  };
}

function jsonOf(text: string, file: string): unknown {
  try {
    const value: unknown = JSON.parse(text);
    return value;
  } catch (error) {
    throw new InputError(`this is no JSON (${error instanceof Error ? error.message : String(error)})`, {
      file,
    });
  }
}

export const openAction: Action = {
  name: 'open',
  usage: '--gauge FILE:PLACE --gauge FILE:PLACE ...',
  help: 'a new cluster, with an ordinary job for each gauge; FILE describes the gauge as JSON',
  words: { least: 0, most: 0 },
  run: async (_, given, surroundings) => {
    const { journal, state } = await newCluster(given, surroundings);
    await journal.close();
    return {
      text: clusterText(state),
      json: { schema: schemaOf('open'), kind: 'cluster', ...clusterJson(state) },
    };
  },
};
