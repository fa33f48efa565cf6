import { render, type JSX } from 'preact';
import { createApp, type App } from './app';
import { useSignal } from './signal';
import { fetchTheRest, later } from './parts/later';
import { Panel } from './frame/panel';
import { Boundary, OldPage } from './frame/old-page';
import { Sheet } from './sheet';
import type { PartProps } from './catalogue/part';
import type { ClusterParts } from './cluster/cluster-sheet';
import { Home } from './home/home';
import { StartJob } from './home/start-job';

const Pair = later<{ readonly app: App }>(async () => (await import('./home/pair')).Pair);
const Find = later<{ readonly app: App }>(async () => (await import('./catalogue/find')).Find);
// One part with finding: another entry would split what the first view fetches into more pieces.
const BringIn = later<{ readonly app: App }>(async () => (await import('./catalogue/find')).BringIn);
const Part = later<PartProps>(async () => (await import('./catalogue/part')).Part);
const Clusters = later<{ readonly app: App }>(async () => (await import('./cluster/clusters')).Clusters);
const NewCluster = later<{ readonly app: App }>(
  async () => (await import('./cluster/new-cluster')).NewCluster,
);
const ClusterSheet = later<ClusterParts>(async () => (await import('./cluster/cluster-sheet')).ClusterSheet);
const Devices = later<{ readonly app: App }>(async () => (await import('./home/devices')).Devices);

function Front(props: {
  readonly app: App;
  readonly title: string;
  readonly children: JSX.Element;
}): JSX.Element {
  return (
    <>
      <Panel title={props.title} />
      <main class="wrap paper stack">
        <OldPage app={props.app} />
        {props.children}
      </main>
    </>
  );
}

function Page({ app }: { readonly app: App }): JSX.Element | null {
  const route = useSignal(app.route);
  const job = useSignal(app.job);
  const cluster = useSignal(app.cluster);
  const greeting = useSignal(app.greeting);
  if (greeting !== undefined && greeting.right === undefined) {
    return (
      <Front app={app} title="Pair this device">
        <Pair app={app} />
      </Front>
    );
  }
  switch (route.kind) {
    case 'jobs':
    case 'pair':
      return <Home app={app} />;
    case 'devices':
      return (
        <Front app={app} title="Devices">
          <Devices app={app} />
        </Front>
      );
    case 'catalogue':
      return <Find app={app} />;
    case 'bring-in':
      return <BringIn app={app} />;
    case 'part':
      return <Part key={`${route.part} ${route.name}`} app={app} part={route.part} name={route.name} />;
    case 'new':
      return (
        <Front app={app} title="A new job sheet">
          <StartJob app={app} wanted={route.box} />
        </Front>
      );
    case 'clusters':
      return (
        <Front app={app} title="Clusters">
          <Clusters app={app} />
        </Front>
      );
    case 'new-cluster':
      return (
        <Front app={app} title="A whole cluster">
          <NewCluster app={app} />
        </Front>
      );
    case 'cluster':
      return cluster === undefined ? (
        <Panel title="Fetching the cluster" />
      ) : (
        <ClusterSheet key={route.clusterId} app={app} cluster={cluster} />
      );
    case 'job':
      return job === undefined ? null : <Sheet key={route.jobId} app={app} job={job} />;
  }
}

/** The list of jobs comes before what nobody has asked for yet. */
const REST_AFTER_MS = 1_500;

const page = document.getElementById('page');
if (page !== null) {
  page.textContent = '';
  render(
    <Boundary>
      <Page app={createApp()} />
    </Boundary>,
    page,
  );
  requestAnimationFrame(() => setTimeout(fetchTheRest, REST_AFTER_MS));
}
