import { mkdir, open, readdir, readFile, type FileHandle } from 'node:fs/promises';
import { join } from 'node:path';
import { crc32 } from 'node:zlib';
import type { Refused } from '../core/result';
import { refuse } from '../refusals';
import { explain } from '../job';
import {
  CLUSTER_SCHEMA,
  clusterEvent,
  type ClusterBody,
  type ClusterEvent,
} from '../job/schema/cluster-events';
import { troubleSentence } from './file-trouble';
import { folderNameFor, jobFolder } from './job-folders';
import { lockJob, type Lock } from './lock';
import { syncFolder } from './sync-folder';

const CLUSTER_FILE = 'cluster.ndjson';
/** Beside the jobs; a name with a dot in front is never taken for one. */
const CLUSTERS_FOLDER = '.clusters';
const LINE_END = 0x0a;
const HEXADECIMAL = 16;

export type ClusterOpening = Omit<
  Extract<ClusterBody, { kind: 'cluster-opened' }>,
  'kind' | 'schema' | 'clusterId'
>;

/** The journal of a cluster's togetherness. Everything appended is on the disk before it is answered. */
export type ClusterJournal = {
  readonly kind: 'cluster-journal';
  readonly folder: string;
  readonly events: readonly ClusterEvent[];
  append(bodies: readonly ClusterBody[], by: string): Promise<'appended' | Refused>;
  close(): Promise<void>;
};

const lineOf = (event: ClusterEvent): string => {
  const openText = JSON.stringify(event).slice(0, -1);
  return `${openText},"crc":"${crc32(openText).toString(HEXADECIMAL).padStart(8, '0')}"}\n`;
};

const CHECKSUM = /,"crc":"([0-9a-f]{8})"\}$/;

function eventOf(line: string, number: number, file: string): ClusterEvent | Refused {
  const where = `${file}, line ${number}`;
  const sum = CHECKSUM.exec(line);
  const text = sum === null ? line : line.slice(0, sum.index);
  if (sum === null || crc32(text).toString(HEXADECIMAL).padStart(8, '0') !== sum[1])
    return refuse('JOURNAL_DAMAGED', {
      where,
      why: 'it was changed after it was written, its checksum does not fit',
    });
  const parsed = clusterEvent.safeParse(JSON.parse(`${text}}`));
  if (!parsed.success) return refuse('JOURNAL_DAMAGED', { where, why: explain(parsed.error) });
  if (parsed.data.n !== number) return refuse('JOURNAL_ORDER', { where, found: parsed.data.n, due: number });
  return parsed.data;
}

/** Whole lines only: what was being written when the power went was never answered. */
async function readEvents(file: string): Promise<{ events: ClusterEvent[]; wholeBytes: number } | Refused> {
  let bytes: Buffer;
  try {
    bytes = await readFile(file);
  } catch (error) {
    return refuse('JOURNAL_UNREADABLE', { why: troubleSentence(file, 'not read', error) });
  }
  const wholeBytes = bytes.lastIndexOf(LINE_END) + 1;
  const events: ClusterEvent[] = [];
  for (const line of bytes.subarray(0, wholeBytes).toString('utf8').split('\n').slice(0, -1)) {
    const event = eventOf(line, events.length + 1, file);
    if (event.kind === 'refused') return event;
    events.push(event);
  }
  return { events, wholeBytes };
}

class OpenClusterJournal implements ClusterJournal {
  readonly kind = 'cluster-journal';
  readonly folder: string;
  readonly events: ClusterEvent[];
  readonly #file: FileHandle;
  readonly #lock: Lock;
  readonly #nowIso: () => string;
  #turn: Promise<unknown> = Promise.resolve();

  constructor(
    folder: string,
    parts: { file: FileHandle; lock: Lock; events: ClusterEvent[]; nowIso: () => string },
  ) {
    this.folder = folder;
    this.events = parts.events;
    this.#file = parts.file;
    this.#lock = parts.lock;
    this.#nowIso = parts.nowIso;
  }

  append(bodies: readonly ClusterBody[], by: string): Promise<'appended' | Refused> {
    const answer = this.#turn.then(() => this.#append(bodies, by));
    this.#turn = answer;
    return answer;
  }

  async close(): Promise<void> {
    await this.#turn;
    await this.#file.close().catch(() => undefined);
    await this.#lock.release();
  }

  async #append(bodies: readonly ClusterBody[], by: string): Promise<'appended' | Refused> {
    const at = this.#nowIso();
    const added: ClusterEvent[] = [];
    for (const body of bodies) {
      const parsed = clusterEvent.safeParse({ n: this.events.length + added.length + 1, at, by, ...body });
      if (!parsed.success) return refuse('EVENT_UNREADABLE', { why: explain(parsed.error) });
      added.push(parsed.data);
    }
    try {
      await this.#file.appendFile(added.map(lineOf).join(''));
      await this.#file.datasync();
    } catch (error) {
      return refuse('JOURNAL_WRITE_FAILED', { why: troubleSentence(this.folder, 'not written', error) });
    }
    this.events.push(...added);
    return 'appended';
  }
}

/** Opens a cluster's journal for writing, locked. Refuses what cannot be read, is damaged, or is open elsewhere. */
export async function openCluster(
  jobsFolder: string,
  clusterId: string,
  nowIso: () => string,
): Promise<ClusterJournal | Refused> {
  const folder = jobFolder(join(jobsFolder, CLUSTERS_FOLDER), clusterId);
  if (typeof folder !== 'string') return folder;
  const path = join(folder, CLUSTER_FILE);
  const read = await readEvents(path);
  if ('kind' in read) return read;
  const lock = await lockJob(folder);
  if (lock.kind === 'refused') return lock;
  const file = await open(path, 'r+');
  await file.truncate(read.wholeBytes);
  await file.close();
  return new OpenClusterJournal(folder, { file: await open(path, 'a'), lock, events: read.events, nowIso });
}

/** A new cluster among the jobs, with its opening in it. Refuses JOBS_FOLDER. */
export async function createCluster(
  jobsFolder: string,
  opening: ClusterOpening,
  stamp: { readonly atIso: string; readonly by: string },
): Promise<{ readonly kind: 'created'; readonly clusterId: string } | Refused> {
  const all = join(jobsFolder, CLUSTERS_FOLDER);
  try {
    await mkdir(all, { recursive: true });
    const clusterId = await claim(all, folderNameFor(opening.title, stamp.atIso));
    const first: ClusterEvent = {
      n: 1,
      at: stamp.atIso,
      by: stamp.by,
      kind: 'cluster-opened',
      schema: CLUSTER_SCHEMA,
      clusterId,
      ...opening,
    };
    const file = await open(join(all, clusterId, CLUSTER_FILE), 'wx');
    await file.writeFile(lineOf(first));
    await file.sync();
    await file.close();
    await syncFolder(join(all, clusterId));
    return { kind: 'created', clusterId };
  } catch (error) {
    return refuse('JOBS_FOLDER', { why: troubleSentence(all, 'no cluster was made', error) });
  }
}

async function claim(folder: string, wanted: string): Promise<string> {
  for (let attempt = 1; ; attempt += 1) {
    const name = attempt === 1 ? wanted : `${wanted}-${attempt}`;
    const made = await mkdir(join(folder, name)).then(
      () => true,
      (error: unknown) => {
        if (error instanceof Error && 'code' in error && error.code === 'EEXIST') return false;
        throw error;
      },
    );
    if (made) return name;
  }
}

/** Every cluster's events, by its id, the newest first; one that cannot be read is its refusal. Locks nothing. */
export async function listClusters(
  jobsFolder: string,
): Promise<readonly { readonly clusterId: string; readonly events: readonly ClusterEvent[] | Refused }[]> {
  const all = join(jobsFolder, CLUSTERS_FOLDER);
  const names = await readdir(all).catch(() => []);
  const listed = await Promise.all(
    names.map(async (clusterId) => {
      const read = await readEvents(join(all, clusterId, CLUSTER_FILE));
      return { clusterId, events: 'kind' in read ? read : read.events };
    }),
  );
  return listed.sort((one, other) => (one.clusterId < other.clusterId ? 1 : -1));
}
