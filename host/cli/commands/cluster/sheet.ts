import { version } from '../../../../package.json';
import {
  conditionOf,
  foldCluster,
  foldJob,
  worstPercentOf,
  type ClusterState,
  type JobState,
} from '../../../job';
import { clusterPdf } from '../../../record/cluster-file';
import { jobFolder, listClusters, readJournal } from '../../../store';
import type { Report, Surroundings } from '../../command';
import { jobsFolderOf } from '../../input/cluster-boxes';
import { InputError } from '../../input-error';
import type { Arguments } from '../../options';
import { clusterJson, clusterText, conditionJson, gaugeText, neighbourText } from '../../output/cluster-text';
import { writeNew } from '../../output/new-file';
import { significant, textTable } from '../../output/text-table';
import { sweptWords } from '../../../words/cluster';
import { must, nowIso, schemaOf, type Action } from './action';
import { openWith } from './open';

async function clusterById(clusterId: string, folder: string): Promise<ClusterState> {
  const found = (await listClusters(folder)).find((each) => each.clusterId === clusterId);
  if (found === undefined)
    throw new InputError(`there is no cluster ${clusterId}; "needlewright cluster table" lists them`);
  const state = foldCluster(must(found.events));
  if (state === undefined)
    throw new InputError(`${clusterId} is no cluster: its journal does not begin with its opening`);
  return state;
}

async function jobOf(folder: string, jobId: string): Promise<JobState> {
  const path = jobFolder(folder, jobId);
  if (typeof path !== 'string') throw new InputError(path.message);
  const state = foldJob(must(await readJournal(path)).events);
  if (state === undefined) throw new InputError(`${jobId} is no job`);
  return state;
}

/** The sheet of one cluster: what was found and left of each gauge, and what they do to each other. */
export async function sheetOf(
  state: ClusterState,
  folder: string,
  action: 'sheet' | 'sweep' = 'sheet',
): Promise<Report> {
  const jobs = await Promise.all(
    state.gauges.map(async ({ jobId, place }) => ({ place, job: await jobOf(folder, jobId) })),
  );
  return {
    text: [
      ...clusterText(state),
      ...sweptWords(state).map(
        ({ how, readings, minutes, leastMinutes }) =>
          `swept ${how}: ${readings} readings in ${minutes.toFixed(1)} min${leastMinutes === undefined ? '' : `; no order of reading could take less than ${leastMinutes.toFixed(1)}`}`,
      ),
      '',
      ...jobs.flatMap(({ place, job }) => [...gaugeText(place, job), '']),
      ...neighbourText(state),
    ],
    json: {
      schema: schemaOf(action),
      kind: 'cluster',
      ...clusterJson(state),
      conditions: jobs.map(({ place, job }) => ({
        place,
        quantity: job.gauge.quantity,
        unit: job.gauge.unit,
        as_found: conditionJson(job, 'as-found'),
        as_left: conditionJson(job, 'as-left'),
      })),
    },
  };
}

export const sheetAction: Action = {
  name: 'sheet',
  usage: 'ID [--pdf FILE]',
  help: 'as found and as left of every gauge, and what they do to each other; to print with --pdf',
  words: { least: 1, most: 1 },
  run: async ([clusterId = ''], given, surroundings) => {
    const folder = jobsFolderOf(given, surroundings);
    const state = await clusterById(clusterId, folder);
    const pdf = given.text('pdf');
    if (pdf !== undefined)
      await writePdf(state, folder, pdf, given.text('paper') === 'letter' ? 'letter' : 'a4');
    return sheetOf(state, folder);
  },
};

async function writePdf(
  state: ClusterState,
  folder: string,
  file: string,
  paper: 'a4' | 'letter',
): Promise<void> {
  const gauges = await Promise.all(
    state.gauges.map(async ({ jobId, place }) => {
      const job = await jobOf(folder, jobId);
      return { place, job, found: conditionOf(job, 'as-found'), left: conditionOf(job, 'as-left') };
    }),
  );
  const bytes = await clusterPdf({ state, gauges }, paper, version);
  await writeNew(file, bytes);
}

export const againAction: Action = {
  name: 'again',
  usage: 'ID',
  help: 'a new cluster of the same kind: descriptions and places are copied, readings are not',
  words: { least: 1, most: 1 },
  run: async ([clusterId = ''], given, surroundings) => {
    const folder = jobsFolderOf(given, surroundings);
    const before = await clusterById(clusterId, folder);
    const wanted = await Promise.all(
      before.gauges.map(async ({ jobId, place }) => {
        const { title, gauge, printed, vehicle, place: where, simulated } = await jobOf(folder, jobId);
        return { place, opening: { title, gauge: printed ?? gauge, vehicle, place: where, simulated } };
      }),
    );
    const like = {
      title: given.text('title') ?? before.title,
      vehicle: given.text('vehicle') ?? before.vehicle,
      feed: before.feed,
    };
    const { journal, state } = await openWith(wanted, like, given, surroundings);
    await journal.close();
    return {
      text: clusterText(state),
      json: { schema: schemaOf('again'), kind: 'cluster', ...clusterJson(state), at: nowIso() },
    };
  },
};

type BatchRow = {
  readonly cluster: string;
  readonly opened: string;
  readonly minutes: number | undefined;
  readonly place: string;
  readonly quantity: JobState['gauge']['quantity'];
  readonly found: number | undefined;
  readonly left: number | undefined;
};

async function rowsOf(given: Arguments, surroundings: Surroundings): Promise<readonly BatchRow[]> {
  const folder = jobsFolderOf(given, surroundings);
  const rows: BatchRow[] = [];
  for (const { clusterId, events } of await listClusters(folder)) {
    const state = foldCluster('kind' in events ? [] : events);
    if (state === undefined) surroundings.err(`warning: ${clusterId} cannot be read and is left out`);
    for (const { jobId, place } of state?.gauges ?? []) {
      const job = await jobOf(folder, jobId);
      rows.push({
        cluster: clusterId,
        opened: state?.openedAt ?? '',
        minutes: minutesOf(state),
        place,
        quantity: job.gauge.quantity,
        found: worstPercentOf(job, conditionOf(job, 'as-found')),
        left: worstPercentOf(job, conditionOf(job, 'as-left')),
      });
    }
  }
  return rows;
}

const minutesOf = (state: ClusterState | undefined): number | undefined => {
  const minutes = (state === undefined ? [] : sweptWords(state)).map((each) => each.minutes);
  return minutes.length === 0 ? undefined : minutes.reduce((sum, each) => sum + each, 0);
};

const percentText = (value: number | undefined): string => (value === undefined ? '' : significant(value, 2));

export const tableAction: Action = {
  name: 'table',
  usage: '[--csv]',
  help: 'every cluster of these jobs: minutes, and how far the ends of each gauge are off its family',
  words: { least: 0, most: 0 },
  run: async (_, given, surroundings) => {
    const rows = await rowsOf(given, surroundings);
    const titles = [
      'cluster',
      'opened',
      'place',
      'quantity',
      'minutes',
      'as_found_percent',
      'as_left_percent',
    ];
    const cells = rows.map((row) => [
      row.cluster,
      row.opened,
      row.place,
      row.quantity,
      row.minutes === undefined ? '' : row.minutes.toFixed(1),
      percentText(row.found),
      percentText(row.left),
    ]);
    const csv = [titles, ...cells].map((line) => line.map(csvField).join(','));
    return {
      text: given.flag('csv')
        ? csv
        : textTable(
            titles.map((title) => ({ title })),
            cells,
          ),
      json: {
        schema: schemaOf('table'),
        kind: 'cluster-table',
        rows: rows.map(({ cluster, opened, minutes, place, quantity, found, left }) => ({
          cluster,
          opened,
          place,
          quantity,
          minutes: minutes ?? null,
          as_found_percent: found ?? null,
          as_left_percent: left ?? null,
        })),
      },
    };
  },
};

const csvField = (text: string): string => (/[",\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
