import type { BoxChoice, HostInfo } from '../../job/host-wire';
import type { Station } from '../../job/headlines';
import type { JobListing, Refusal } from '../../job/wire';
import { openDesk, type Desk } from './desk';
import { createEntry, UNSET, type Entry } from './entry';
import { createSignal, type Signal } from './signal';
import { chooseBox, hostInfo, jobListing } from './talk';
import { createTones, type Tones } from './tones';

export type Route =
  { readonly kind: 'jobs' } | { readonly kind: 'new' } | { readonly kind: 'job'; readonly jobId: string };

/** The page's one model. Components read its signals and call its functions; they keep nothing of their own but drafts. */
export type App = {
  readonly route: Signal<Route>;
  readonly host: Signal<HostInfo | undefined>;
  readonly jobs: Signal<JobListing | undefined>;
  readonly desk: Signal<Desk | undefined>;
  readonly trouble: Signal<Refusal | undefined>;
  readonly entry: Signal<Entry>;
  /** The station the person opened by hand; undefined follows the work. */
  readonly opened: Signal<Station | 'none' | undefined>;
  /** The trim asked for another sender, which has not been named yet. */
  readonly anotherSender: Signal<boolean>;
  readonly tones: Tones;
  readonly refresh: () => Promise<void>;
  readonly useBox: (choice: BoxChoice) => Promise<void>;
};

function routeOf(hash: string): Route {
  const job = /^#\/job\/(.+)$/.exec(hash)?.[1];
  if (job !== undefined) return { kind: 'job', jobId: decodeURIComponent(job) };
  return hash === '#/new' ? { kind: 'new' } : { kind: 'jobs' };
}

/** Names this screen to the others: what it is, and a number that stays while the tab lives. */
function screenName(storage: Storage): string {
  const kept = storage.getItem('needlewright-screen');
  if (kept !== null) return kept;
  const kind = matchMedia('(pointer: coarse)').matches ? 'phone' : 'laptop';
  const fresh = `${kind} ${Math.floor(1000 * Math.random())}`;
  storage.setItem('needlewright-screen', fresh);
  return fresh;
}

export function createApp(): App {
  const app: App = {
    route: createSignal<Route>(routeOf(location.hash)),
    host: createSignal<HostInfo | undefined>(undefined),
    jobs: createSignal<JobListing | undefined>(undefined),
    desk: createSignal<Desk | undefined>(undefined),
    trouble: createSignal<Refusal | undefined>(undefined),
    entry: createEntry(),
    opened: createSignal<Station | 'none' | undefined>(undefined),
    anotherSender: createSignal(false),
    tones: createTones(localStorage),
    refresh: async () => {
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
  const arrive = (): void => {
    const route = routeOf(location.hash);
    app.route.set(route);
    app.opened.set(undefined);
    app.anotherSender.set(false);
    app.entry.set(UNSET);
    app.desk.get()?.close();
    app.desk.set(route.kind === 'job' ? deskWithSounds(app, route.jobId) : undefined);
    if (route.kind !== 'job') void app.refresh();
  };
  addEventListener('hashchange', arrive);
  arrive();
  if (app.route.get().kind === 'job') void app.refresh();
  return app;
}

function deskWithSounds(app: App, jobId: string): Desk {
  const desk = openDesk(jobId, screenName(sessionStorage));
  let heard: { readonly waiting: string | undefined; readonly trip: string | undefined } = {
    waiting: undefined,
    trip: undefined,
  };
  desk.live.subscribe(() => {
    const frame = desk.live.get();
    const next = { waiting: frame?.waiting.kind, trip: frame?.trip?.code };
    if (next.trip !== undefined && heard.trip === undefined) app.tones.tripped();
    else if (next.waiting === 'answer' && heard.waiting !== 'answer') app.tones.settled();
    heard = next;
  });
  return desk;
}
