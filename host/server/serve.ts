import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Clusters, openBench, systemBenchClock, type Bench, type BenchClock } from '../bench';
import type { Refused } from '../core/result';
import { refuse } from '../refusals';
import type { BoxChoice } from '../job/wire/host-messages';
import { inOrder, systemClock, type OpenedForGood } from '../link';
import { jobsPlace } from '../store';
import { createServerApp } from './app';
import { createBoxBay, type BayTools, type BoxBay, type SimulationOptions } from './box-bay';
import { knownCallers } from './callers';
import { recordDesk } from './record/record-desk';
import { catalogueDesk } from './catalogue/catalogue-desk';
import { createComputer } from './findings/computer';
import { Devices } from './devices';
import { reckonInThread } from './in-thread';
import { Pairing } from './pairing';

export type ServeOptions = {
  readonly jobsFolder: string;
  /** Where the catalogue lies; a folder of its own among the jobs when left out. */
  readonly catalogueFolder?: string | undefined;
  /** 127.0.0.1 when not given; anything else needs `isLan`. */
  readonly listenHost?: string | undefined;
  /** 8377 when not given; 0 takes any free port. */
  readonly listenPort?: number | undefined;
  /** A person said that other devices of the local network may come in. */
  readonly isLan?: boolean | undefined;
  readonly box?: BoxChoice | undefined;
  readonly simulation?: SimulationOptions | undefined;
  /** Another time than the machine's own for bench and box, so that tests need not wait. Screens live in real time. */
  readonly lent?: (BayTools & { readonly clock: BenchClock }) | undefined;
  readonly version?: string | undefined;
  /** Told of the output before anything can drive it; whoever ends the program opens it first. */
  readonly watchOutput?: ((output: HostOutput) => void) | undefined;
  /** Told what did not end well, a sentence each. */
  readonly trouble?: ((line: string) => void) | undefined;
};

/** The output of whatever box is plugged in. */
export type HostOutput = { readonly title: string; readonly openForGood: () => Promise<OpenedForGood> };

export type RunningServer = {
  readonly kind: 'serving';
  /** Where the page is. */
  readonly url: string;
  readonly bay: BoxBay;
  /** Lets devices of the local network in. */
  readonly pairing: Pairing;
  readonly devices: Devices;
  /** Where another device finds the page now. */
  readonly pageAddresses: () => readonly string[];
  /** What was wrong at the start and does not keep the host from serving. */
  readonly warnings: readonly string[];
  /** Opens the output first; then ends every job and screen and frees the port, each by itself and with a limit. */
  close(): Promise<void>;
};

export const USUAL_PORT = 8377;
const END_STEP_MS = 1_000;
const HTTP_PORT = 80;
/**
 * Two hosts on one jobs folder each keep their own list: a device's cookie belongs to one address and port. A name with a
 * dot in front is never taken for a job.
 */
const devicesFile = (host: string, port: number): string =>
  `.devices-${host.replaceAll(':', '_')}-${port}.json`;
const LOOPBACK = new Set(['127.0.0.1', '::1', 'localhost']);

/** The built pieces lie beside the bundled command, or in the build folder when the source runs unbundled. */
function builtPath(name: string): URL | undefined {
  const places = [`../${name}`, `../../.build/${name}`].map((place) => new URL(place, import.meta.url));
  return places.find((place) => existsSync(fileURLToPath(place)));
}

/** The page and the programs of the threads; undefined where one of them is not built. */
function builtPieces() {
  // Not index.html: the source folder has one too.
  const web = builtPath('web/main.js');
  const thread = builtPath('cli/compute-thread.js');
  const catalogueThread = builtPath('cli/catalogue-thread.js');
  const recordThread = builtPath('cli/record-thread.js');
  if (web === undefined || thread === undefined) return undefined;
  if (catalogueThread === undefined || recordThread === undefined) return undefined;
  return { web, thread, catalogueThread, recordThread };
}

const cataloguePlace = ({ jobsFolder, catalogueFolder }: ServeOptions, version: string) => ({
  jobsFolder,
  catalogueFolder: catalogueFolder ?? join(jobsFolder, '.catalogue'),
  version,
});

/** The bench of a cluster has no bath. */
const takeOutOfBath = (bay: BoxBay): void => {
  if (bay.choice.kind === 'simulated') bay.tellWorld({ bath: 'off' });
};

/** What draws records and asks the catalogue, each on a thread of its own. */
const desksOf = (
  built: NonNullable<ReturnType<typeof builtPieces>>,
  options: ServeOptions,
  version: string,
) => ({
  records: recordDesk(reckonInThread(built.recordThread), version),
  catalogue: catalogueDesk(reckonInThread(built.catalogueThread), cataloguePlace(options, version)),
});

/**
 * Starts the host: bench, page, API and screens' sockets on one port.
 * Refuses: LISTEN_NEEDS_LAN (an address other than this machine's own without saying so), PAGE_NOT_BUILT, JOBS_FOLDER (no
 * jobs can be kept or read there), LISTEN_FAILED
 * (port taken, no such address).
 */
export async function startServer(options: ServeOptions): Promise<RunningServer | Refused> {
  const host = options.listenHost ?? '127.0.0.1';
  const port = options.listenPort ?? USUAL_PORT;
  const isLan = options.isLan ?? false;
  if (!LOOPBACK.has(host) && !isLan) {
    return refuse('LISTEN_NEEDS_LAN', { host });
  }
  const built = builtPieces();
  if (built === undefined) return refuse('PAGE_NOT_BUILT');
  const place = await jobsPlace(options.jobsFolder);
  if (place.kind === 'refused') return place;
  const bay = createBoxBay(options.simulation, options.lent);
  options.watchOutput?.(outputOf(bay));
  const computer = createComputer(reckonInThread(built.thread));
  const bench = openBench({
    jobsFolder: options.jobsFolder,
    reEstimate: computer.reEstimate,
    ...linksOf(bay),
    ...(options.lent && { clock: options.lent.clock, screenClock: systemClock }),
    ...(options.simulation?.speed === undefined ? {} : { simulatedSpeed: options.simulation.speed }),
    exampleFolder: fileURLToPath(new URL('../../demo-sessions/harrow-six-coolant', import.meta.url)),
    clipsToGauge: () => takeOutOfBath(bay),
  });
  const clusters = clustersOf(options, bench);
  const version = options.version ?? '0.1.0';
  const { records, catalogue } = desksOf(built, options, version);
  const callers = knownCallers(isLan);
  const devices = new Devices(join(options.jobsFolder, devicesFile(host, port)));
  const loaded = isLan ? await devices.load() : 'loaded';
  const pairing = new Pairing();
  const app = await createServerApp({
    bench,
    clusters,
    bay,
    computer,
    catalogue,
    records,
    callers,
    devices,
    pairing,
    webFolder: fileURLToPath(new URL('.', built.web)),
    version,
  });
  const close = closing({ bay, bench, clusters, app, computer, catalogue, records }, options);
  try {
    const url = await app.listen({ host, port });
    const chosen = options.box === undefined ? bay.choice : await bay.choose(options.box);
    const pageAddresses = (): readonly string[] =>
      callers.pageAddresses(Number(new URL(url).port) || HTTP_PORT);
    const warnings = [
      ...(place.readOnly === undefined ? [] : [place.readOnly]),
      ...(loaded === 'loaded' ? [] : [loaded.message]),
      ...(chosen.kind === 'refused' ? [chosen.message] : []),
    ];
    return { kind: 'serving', url, bay, pairing, devices, pageAddresses, warnings, close };
  } catch (error) {
    await close();
    return refuse('LISTEN_FAILED', { why: whyNot(error, host, port) });
  }
}

type Parts = {
  readonly bay: BoxBay;
  readonly bench: { close(): Promise<void> };
  readonly clusters: { close(): Promise<void> };
  readonly app: { close(): Promise<void> };
  readonly computer: { close(): Promise<void> };
  readonly catalogue: { close(): Promise<void> };
  readonly records: { close(): Promise<void> };
};

const clustersOf = ({ jobsFolder, lent, simulation }: ServeOptions, bench: Bench): Clusters =>
  new Clusters({
    jobsFolder,
    bench,
    clock: lent?.clock ?? systemBenchClock,
    screenClock: systemClock,
    needleSpeed: 1,
    simulatedSpeed: simulation?.speed,
  });

const linksOf = ({ links, link }: BoxBay) => ({ link, furtherLinks: links.slice(1) });

const outputOf = (bay: BoxBay): HostOutput => ({
  get title() {
    return bay.title;
  },
  openForGood: () => bay.openForGood(),
});

/** The output first, before anything that could fail or hang; then each step by itself, whatever became of the others. */
const closing =
  (
    { bay, bench, clusters, app, computer, catalogue, records }: Parts,
    { trouble: tell }: ServeOptions,
  ): (() => Promise<void>) =>
  async () => {
    await bay.openForGood();
    const steps = [
      { what: 'closing the clusters', work: () => clusters.close() },
      { what: 'closing the jobs', work: () => bench.close() },
      { what: 'closing the page', work: () => app.close() },
      { what: 'letting go of the box', work: () => bay.close() },
      { what: 'ending the computation', work: () => computer.close() },
      { what: 'closing the catalogue', work: () => catalogue.close() },
      { what: 'ending the drawing', work: () => records.close() },
    ];
    for (const trouble of await inOrder(steps, END_STEP_MS)) tell?.(trouble);
  };

function whyNot(error: unknown, host: string, port: number): string {
  const code = error instanceof Error && 'code' in error ? error.code : undefined;
  if (code === 'EADDRINUSE')
    return `Port ${port} is taken. Is another needlewright running? Choose a port with --listen ${host}:PORT.`;
  if (code === 'EADDRNOTAVAIL')
    return `This machine has no address ${host}. Choose one of its own with --listen.`;
  if (code === 'EACCES')
    return `Port ${port} needs rights you do not have. Choose one above 1023 with --listen ${host}:PORT.`;
  return `The host could not listen on ${host}:${port} (${error instanceof Error ? error.message : String(error)}).`;
}
