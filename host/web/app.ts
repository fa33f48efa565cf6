import type { BoxChoice, Greeting, HostInfo } from '../job/wire/host-messages';
import type { Gauge } from '../job/schema/gauge';
import type { Station } from '../job/stations';
import type { JobListing, Refusal } from '../job/wire/job-messages';
import type { ClusterConnection } from './connection/cluster-connection';
import { connectToJob, type JobConnection } from './connection/job-connection';
import { createEntry, UNSET, type Entry } from './entry/entry';
import { selfOf, type Self } from './connection/this-device';
import { createSignal, type Signal } from './signal';
import { chooseBox, greet, hostInfo, jobListing, keepStopToken } from './connection/http';
import { createInHand, type InHand } from './parts/in-hand';
import { createLooks, type Looks } from './parts/look';
import { createTones, type Tones } from './parts/tones';

/** What a job is measured with: the simulated bench, a real box, or what a person puts on by hand. */
export type MeasureWith = 'simulated' | 'port' | 'hand';

export type Route =
  | { readonly kind: 'jobs' | 'devices' | 'catalogue' | 'bring-in' | 'clusters' | 'new-cluster' }
  /** A model of the catalogue, or a card by itself. */
  | { readonly kind: 'part'; readonly part: 'model' | 'card'; readonly name: string }
  /** `box`: what to measure with was said already. */
  | { readonly kind: 'new'; readonly box: MeasureWith | undefined }
  | { readonly kind: 'pair'; readonly token: string }
  | { readonly kind: 'job'; readonly jobId: string }
  | { readonly kind: 'cluster'; readonly clusterId: string };

/** The page's one model. Components read its signals and call its functions; they keep nothing of their own but drafts. */
export type App = {
  readonly route: Signal<Route>;
  /** What this device is to the host; undefined before the host has said it. */
  readonly greeting: Signal<Greeting | undefined>;
  /** This page is not the one that belongs to its host. */
  readonly isOld: Signal<boolean>;
  readonly host: Signal<HostInfo | undefined>;
  readonly jobs: Signal<JobListing | undefined>;
  readonly job: Signal<JobConnection | undefined>;
  readonly cluster: Signal<ClusterConnection | undefined>;
  readonly trouble: Signal<Refusal | undefined>;
  readonly entry: Signal<Entry>;
  /** The proof's own: a needle put down for a sweep is no reading beside a reference. */
  readonly proofEntry: Signal<Entry>;
  /** The station the person opened by hand; undefined follows the work. */
  readonly opened: Signal<Station | undefined>;
  /** The trim asked for another sender, which has not been named yet. */
  readonly anotherSender: Signal<boolean>;
  /** The gauge that the next job begins with: one of the catalogue. */
  readonly startFrom: Signal<Gauge | undefined>;
  /** What this screen was told to sweep with. */
  readonly inHand: InHand;
  readonly tones: Tones;
  readonly looks: Looks;
  readonly refresh: () => Promise<void>;
  /** Asks the host anew what this device may do. Answers why it could not. */
  readonly greet: () => Promise<Refusal | undefined>;
  readonly useBox: (choice: BoxChoice) => Promise<void>;
};

function routeOf(hash: string): Route {
  const [, job] = /^#\/job\/(.+)$/.exec(hash) ?? [];
  const [, token] = /^#\/pair\/([\w-]+)$/.exec(hash) ?? [];
  if (job !== undefined) return { kind: 'job', jobId: decoded(job) };
  if (token !== undefined) return { kind: 'pair', token };
  const [, part, partName] = /^#\/catalogue\/(model|card)\/(.+)$/.exec(hash) ?? [];
  if (partName !== undefined)
    return { kind: 'part', part: part === 'model' ? 'model' : 'card', name: decoded(partName) };
  const [, clusterId] = /^#\/cluster\/(.+)$/.exec(hash) ?? [];
  if (clusterId !== undefined) return { kind: 'cluster', clusterId: decoded(clusterId) };
  if (hash === '#/clusters') return { kind: 'clusters' };
  if (hash === '#/clusters/new') return { kind: 'new-cluster' };
  if (hash === '#/catalogue/bring-in') return { kind: 'bring-in' };
  if (hash.startsWith('#/catalogue')) return { kind: 'catalogue' };
  if (hash === '#/devices') return { kind: 'devices' };
  const [, box] = /^#\/new(?:\/(simulated|box|hand))?$/.exec(hash) ?? [];
  if (!hash.startsWith('#/new')) return { kind: 'jobs' };
  return {
    kind: 'new',
    box: box === 'box' ? 'port' : box === 'simulated' || box === 'hand' ? box : undefined,
  };
}

/** An address somebody broke leads to a job that is not there, never to a blank page. */
function decoded(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}

export function createApp(): App {
  const self = selfOf(sessionStorage);
  const app: App = {
    route: createSignal<Route>(routeOf(location.hash)),
    greeting: createSignal<Greeting | undefined>(undefined),
    isOld: createSignal(false),
    host: createSignal<HostInfo | undefined>(undefined),
    jobs: createSignal<JobListing | undefined>(undefined),
    job: createSignal<JobConnection | undefined>(undefined),
    cluster: createSignal<ClusterConnection | undefined>(undefined),
    trouble: createSignal<Refusal | undefined>(undefined),
    entry: createEntry(),
    proofEntry: createEntry(),
    opened: createSignal<Station | undefined>(undefined),
    anotherSender: createSignal(false),
    startFrom: createSignal<Gauge | undefined>(undefined),
    inHand: createInHand(sessionStorage),
    tones: createTones(localStorage),
    looks: createLooks(localStorage, document.getElementById('night')),
    greet: async () => {
      const greeting = await greet();
      if (greeting.kind === 'refused') return greeting;
      const { body } = greeting;
      keepStopToken(body.stopToken);
      if (body.build !== self.build) app.isOld.set(true);
      app.greeting.set(body);
      return undefined;
    },
    refresh: async () => {
      const trouble = await app.greet();
      app.trouble.set(trouble);
      if (trouble !== undefined || app.greeting.get()?.right === undefined) return;
      const [host, jobs] = await Promise.all([hostInfo(), jobListing()]);
      if (host.kind === 'answer') app.host.set(host.body);
      if (jobs.kind === 'answer') app.jobs.set(jobs.body);
      app.trouble.set(host.kind === 'refused' ? host : jobs.kind === 'refused' ? jobs : undefined);
    },
    useBox: async (choice) => {
      const chosen = await chooseBox(choice);
      app.trouble.set(chosen.kind === 'refused' ? chosen : undefined);
      const host = app.host.get();
      if (chosen.kind === 'answer' && host !== undefined) app.host.set({ ...host, box: chosen.body });
    },
  };
  const arrive = (): void => arriveAt(app, routeOf(location.hash), self);
  addEventListener('hashchange', arrive);
  arrive();
  if (app.route.get().kind === 'job') void app.refresh();
  return app;
}

/** Another page: what was being entered on the last one is not of this one. */
function arriveAt(app: App, route: Route, self: Self): void {
  app.route.set(route);
  app.opened.set(undefined);
  if (route.kind !== 'new') app.startFrom.set(undefined);
  app.anotherSender.set(false);
  app.entry.set(UNSET);
  app.proofEntry.set(UNSET);
  app.job.get()?.close();
  app.job.set(route.kind === 'job' ? deskOf(app, route.jobId, self) : undefined);
  app.cluster.get()?.close();
  app.cluster.set(undefined);
  if (route.kind === 'cluster') void openCluster(app, route, self);
  if (route.kind !== 'job') void app.refresh();
}

/** Several lines to the host are not in the first script: a job needs one. */
async function openCluster(app: App, route: Extract<Route, { kind: 'cluster' }>, self: Self): Promise<void> {
  const { connectToCluster } = await import('./connection/cluster-connection');
  // Somebody has gone elsewhere meanwhile.
  if (app.route.get() !== route) return;
  const cluster = connectToCluster(route.clusterId, self);
  app.cluster.set(cluster);
  cluster.connection.subscribe(() => void app.greet());
  cluster.isOld.subscribe(() => app.isOld.set(true));
  let asked = '';
  let wasTripped = false;
  cluster.now.subscribe(() => {
    const { next, isTripped } = cluster.now.get();
    const at = cluster.jobs.get().findIndex(({ jobId }) => jobId === next?.jobId);
    const key = next === undefined ? '' : `${next.jobId} ${next.wants}`;
    if (isTripped && !wasTripped) app.tones.tripped();
    else if (key !== '' && key !== asked) app.tones.settled(at);
    [asked, wasTripped] = [key, isTripped];
  });
}

function deskOf(app: App, jobId: string, self: Self): JobConnection {
  const job = connectToJob(jobId, self);
  // A host that was started again has another stop token; one that has let this device go says so.
  job.connection.subscribe(() => void app.greet());
  job.isOld.subscribe(() => app.isOld.set(true));
  let heard: { readonly waiting: string | undefined; readonly trip: string | undefined } = {
    waiting: undefined,
    trip: undefined,
  };
  job.live.subscribe(() => {
    const frame = job.live.get();
    const next = { waiting: frame?.waiting.kind, trip: frame?.trip?.code };
    if (next.trip !== undefined && heard.trip === undefined) app.tones.tripped();
    else if (next.waiting === 'answer' && heard.waiting !== 'answer') app.tones.settled();
    heard = next;
  });
  return job;
}
