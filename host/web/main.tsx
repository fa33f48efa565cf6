import { render, type JSX } from 'preact';
import { createApp, type App } from './model/app';
import { useSignal } from './model/signal';
import { Sheet } from './sheet';
import { Jobs } from './start/jobs';
import { StartJob } from './start/start-job';

function Front(props: {
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
      <div class="station-body">{props.children}</div>
    </main>
  );
}

function Page({ app }: { readonly app: App }): JSX.Element | null {
  const route = useSignal(app.route);
  const desk = useSignal(app.desk);
  switch (route.kind) {
    case 'jobs':
      return (
        <Front title="Make a dash gauge tell the truth" isHome>
          <Jobs app={app} />
        </Front>
      );
    case 'new':
      return (
        <Front title="A new job sheet" isHome={false}>
          <StartJob app={app} />
        </Front>
      );
    case 'job':
      return desk === undefined ? null : <Sheet key={route.jobId} app={app} desk={desk} />;
  }
}

const page = document.getElementById('page');
if (page !== null) {
  page.textContent = '';
  render(<Page app={createApp()} />, page);
}
