import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { HostInfo } from '../../job/wire/host-messages';
import type { App } from '../app';
import { Panel } from '../frame/panel';
import { OldPage } from '../frame/old-page';
import { openExample } from '../connection/http';
import { Icon, type IconName } from '../parts/icon';
import { LookChoice } from '../parts/look-choice';
import { Note } from '../parts/note';
import { useSignal } from '../signal';
import { HeroPicture } from './hero-picture';
import { Jobs } from './jobs';
import { tryIt } from './start-job';

/** With so many jobs nobody is new here any more: the jobs come first. */
const FEW_JOBS = 5;

/** The newcomer sees what it is and begins with one tap; the shop sees its jobs. */
export function Home({ app }: { readonly app: App }): JSX.Element {
  const host = useSignal(app.host);
  const listing = useSignal(app.jobs);
  const greeting = useSignal(app.greeting);
  const trouble = useSignal(app.trouble);
  const isNew = listing === undefined || listing.jobs.length < FEW_JOBS;
  return (
    <>
      <Panel
        {...(isNew ? {} : { title: 'Jobs' })}
        lamp={<HomeLamp host={host} isHost={greeting?.isHost === true} />}
      >
        {isNew ? <Hero app={app} host={host} /> : null}
      </Panel>
      <main class="wrap paper stack">
        <OldPage app={app} />
        {trouble === undefined ? null : (
          <Note kind="wrong">
            <p>{trouble.message}</p>
          </Note>
        )}
        {isNew ? <WaysToBegin host={host} /> : null}
        {listing === undefined ? (
          <p class="soft">Looking for jobs.</p>
        ) : (
          <Jobs app={app} listing={listing} isNew={isNew} />
        )}
        <LookChoice looks={app.looks} />
      </main>
    </>
  );
}

function HomeLamp({
  host,
  isHost,
}: {
  readonly host: HostInfo | undefined;
  readonly isHost: boolean;
}): JSX.Element {
  const kind = host?.box.kind ?? 'none';
  return (
    <span class="bar-end">
      <a class="bar-link" href="#/catalogue">
        Catalogue
      </a>
      <a class="bar-link" href="#/clusters">
        Clusters
      </a>
      {isHost ? (
        <a class="bar-link" href="#/devices">
          Devices
        </a>
      ) : null}
      <span class={`lamp lamp-said ${kind === 'none' ? '' : 'lamp-on'}`}>
        <i aria-hidden="true" />
        <span>{LAMP_WORDS[kind]}</span>
      </span>
    </span>
  );
}

const LAMP_WORDS: Readonly<Record<HostInfo['box']['kind'], string>> = {
  none: 'No box plugged in',
  simulated: 'Simulated bench',
  port: 'Box at a port',
  ports: 'Several boxes',
  'simulated-cluster': 'Simulated cluster',
};

function Hero({ app, host }: { readonly app: App; readonly host: HostInfo | undefined }): JSX.Element {
  const [isBusy, setBusy] = useState(false);
  const hasBox = host?.box.kind === 'port';
  const canTry = host !== undefined && host.simulatedGauges.length > 0 && !isBusy;
  return (
    <div class="wrap hero">
      <div class="stack">
        <h1 class="promise">Make a dash gauge tell the truth.</h1>
        <p class="promise-more">
          The box stands in for the sender and you say where the needle sits. You get the gauge&rsquo;s curve,
          the resistor that makes your sender fit, and a sheet to hand over.
        </p>
        <div class="row">
          {hasBox ? (
            <a class="button button-main" href="#/new/box">
              Start a job with this box
            </a>
          ) : (
            <button
              type="button"
              class="button button-main"
              disabled={!canTry}
              onClick={() => {
                if (host === undefined) return;
                setBusy(true);
                void tryIt(app, host).finally(() => setBusy(false));
              }}
            >
              Try it: nothing to plug in
            </button>
          )}
          <button type="button" class="button" onClick={() => void openFinished(app)}>
            Open a finished job
          </button>
        </div>
      </div>
      <HeroPicture />
    </div>
  );
}

/** The example that came with the program: what a whole job looks like, in one tap. */
async function openFinished(app: App): Promise<void> {
  const opened = await openExample();
  if (opened.kind === 'refused') app.trouble.set(opened);
  else location.hash = `#/job/${encodeURIComponent(opened.body.jobId)}`;
}

type Way = { readonly icon: IconName; readonly href: string; readonly name: string; readonly what: string };

const WITH_BOX: Way = {
  icon: 'box',
  href: '#/new/box',
  name: 'With the box',
  what: 'Plug it in by USB; it is found by itself.',
};
const BY_HAND: Way = {
  icon: 'resistor',
  href: '#/new/hand',
  name: 'Resistors and an ohmmeter',
  what: 'Or a potentiometer, set by hand. No box needed.',
};
const CLUSTER: Way = {
  icon: 'cluster',
  href: '#/clusters/new',
  name: 'A whole cluster',
  what: 'Several gauges on the bench, a box each, swept together.',
};
const SIMULATED: Way = {
  icon: 'bench',
  href: '#/new/simulated',
  name: 'Simulated bench',
  what: 'A drawn dash to learn on; everything made with it says so.',
};

/** The ways that work, named by what one has in hand. */
function WaysToBegin({ host }: { readonly host: HostInfo | undefined }): JSX.Element {
  const ways =
    host !== undefined && host.simulatedGauges.length === 0
      ? [WITH_BOX, BY_HAND, CLUSTER]
      : [WITH_BOX, BY_HAND, CLUSTER, SIMULATED];
  return (
    <section aria-labelledby="begin">
      <h2 id="begin">Start a job</h2>
      <ul class="begin">
        {ways.map(({ icon, href, name, what }) => (
          <li key={href}>
            <a href={href}>
              <Icon of={icon} />
              <b>{name}</b>
              <span>{what}</span>
            </a>
          </li>
        ))}
      </ul>
    </section>
  );
}
