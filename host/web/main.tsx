import { render, type JSX } from 'preact';
import { createApp, type App } from './app';
import { useSignal } from './signal';
import { fetchTheRest, later } from './parts/later';
import { Boundary, OldPage } from './old-page';
import { Sheet } from './sheet';
import { Jobs } from './home/jobs';
import { StartJob } from './home/start-job';

const Pair = later<{ readonly app: App }>(async () => (await import('./home/pair')).Pair);
const Devices = later<{ readonly app: App }>(async () => (await import('./home/devices')).Devices);

function Front(props: {
  readonly app: App;
  readonly title: string;
  readonly children: JSX.Element;
  readonly isHome: boolean;
}): JSX.Element {
  return (
    <main class="card">
      <header class="card-head">
        <div class="card-top">
          {props.isHome ? <span class="soft">Needlewright</span> : <a href="#/">All job sheets</a>}
        </div>
        <h1>{props.title}</h1>
      </header>
      <div class="station-body stack">
        <OldPage app={props.app} />
        {props.children}
      </div>
    </main>
  );
}

function Page({ app }: { readonly app: App }): JSX.Element | null {
  const route = useSignal(app.route);
  const job = useSignal(app.job);
  const greeting = useSignal(app.greeting);
  if (greeting !== undefined && greeting.right === undefined) {
    return (
      <Front app={app} title="Pair this device" isHome>
        <Pair app={app} />
      </Front>
    );
  }
  switch (route.kind) {
    case 'jobs':
    case 'pair':
      return (
        <Front app={app} title="Make a dash gauge tell the truth" isHome>
          <Jobs app={app} />
        </Front>
      );
    case 'devices':
      return (
        <Front app={app} title="Devices" isHome={false}>
          <Devices app={app} />
        </Front>
      );
    case 'new':
      return (
        <Front app={app} title="A new job sheet" isHome={false}>
          <StartJob app={app} />
        </Front>
      );
    case 'job':
      return job === undefined ? null : <Sheet key={route.jobId} app={app} job={job} />;
  }
}

const page = document.getElementById('page');
if (page !== null) {
  page.textContent = '';
  render(
    <Boundary>
      <Page app={createApp()} />
    </Boundary>,
    page,
  );
  requestAnimationFrame(() => setTimeout(fetchTheRest));
}
