import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { ClusterOpeningAsked } from '../../job/schema/cluster-commands';
import type { Gauge } from '../../job/schema/gauge';
import type { HostInfo, SimulatedCluster } from '../../job/wire/host-messages';
import type { App } from '../app';
import { openNewCluster } from '../connection/http';
import { gaugeOfSimulated, templatesFor } from '../dial/templates';
import { Choice, Pick } from '../parts/choice';
import { Note } from '../parts/note';
import { NumberField, useNumberDraft } from '../parts/number-field';
import { TextField } from '../parts/text-field';
import { useSignal } from '../signal';
import { firstGauges, GaugeDrafts, type GaugeDraft } from './gauge-drafts';

type Way = 'real' | 'simulated';
const WAYS = [
  { value: 'simulated', words: 'Simulated cluster (try it out)' },
  { value: 'real', words: 'Gauges on my bench' },
] as const;
const LEADS = [
  { value: 'bench', words: 'On the bench\u2019s negative' },
  { value: 'ground', words: 'On the cluster\u2019s ground' },
] as const;

/** Everything a cluster begins with: its gauges at their places, and what feeds them. */
export function NewCluster({ app }: { readonly app: App }): JSX.Element {
  const host = useSignal(app.host);
  return host === undefined ? <p class="soft">Asking the host.</p> : <Form app={app} host={host} />;
}

function useFeed() {
  const volt = useNumberDraft('', 'V', 0);
  const fuse = useNumberDraft('', 'A', 0);
  const [stabiliser, setStabiliser] = useState('');
  const [lead, setLead] = useState<(typeof LEADS)[number]['value'] | undefined>(undefined);
  const feed: ClusterOpeningAsked['feed'] = {
    ...(volt.value === undefined ? {} : { volt: volt.value }),
    ...(fuse.value === undefined ? {} : { fuseAmpere: fuse.value }),
    ...(stabiliser.trim() === '' ? {} : { stabiliser: stabiliser.trim() }),
    ...(lead === undefined ? {} : { isBatteryLeadOnBench: lead === 'bench' }),
  };
  return { volt, fuse, stabiliser, setStabiliser, lead, setLead, feed };
}

function Form({ app, host }: { readonly app: App; readonly host: HostInfo }): JSX.Element {
  const [firstCluster] = host.simulatedClusters;
  const hasBoxes = host.box.kind === 'port' || host.box.kind === 'ports';
  const [way, setWay] = useState<Way>(firstCluster === undefined || hasBoxes ? 'real' : 'simulated');
  const [simulated, setSimulated] = useState(firstCluster);
  const [gauges, setGauges] = useState<readonly GaugeDraft[]>(firstGauges);
  const [vehicle, setVehicle] = useState('');
  const [isBusy, setBusy] = useState(false);
  const feed = useFeed();
  const missing = way === 'simulated' ? undefined : missingOf(gauges, feed.fuse.value);
  const begin = async (): Promise<void> => {
    setBusy(true);
    const opening =
      way === 'simulated' && simulated !== undefined
        ? simulatedOpening(simulated)
        : realOpening(gauges, vehicle, feed.feed);
    await open(app, opening, way === 'simulated' ? simulated : undefined);
    setBusy(false);
  };
  return (
    <form
      class="stack start"
      onSubmit={(event) => {
        event.preventDefault();
        void begin();
      }}
    >
      {firstCluster === undefined ? null : (
        <Choice label="What lies on the bench?" options={WAYS} chosen={way} onChoose={setWay} />
      )}
      {way === 'simulated' && simulated !== undefined ? (
        <Pick
          label="Which simulated cluster?"
          options={host.simulatedClusters.map(({ name, title }) => ({ value: name, words: title }))}
          chosen={simulated.name}
          onChoose={(name) => setSimulated(host.simulatedClusters.find((each) => each.name === name))}
        />
      ) : (
        <>
          <TextField label="Which vehicle?" text={vehicle} onText={setVehicle} />
          <GaugeDrafts gauges={gauges} onChange={setGauges} />
          <Feed {...feed} />
        </>
      )}
      <Trouble app={app} />
      <div class="plate-at-thumb">
        <button type="submit" class="button button-main" disabled={isBusy || missing !== undefined}>
          {missing ?? 'Open the cluster sheet'}
        </button>
      </div>
    </form>
  );
}

/** What must be said before such a cluster begins. */
function missingOf(gauges: readonly GaugeDraft[], fuseAmpere: number | undefined): string | undefined {
  const places = gauges.map(({ place }) => place.trim());
  if (places.includes('')) return 'Name every place first';
  if (new Set(places).size < places.length) return 'Two gauges at one place: name them apart';
  return fuseAmpere === undefined ? 'Say the fuse of the feed first' : undefined;
}

/** One feed for all of them; unfused it burns leads before any box can open. */
function Feed(feed: ReturnType<typeof useFeed>): JSX.Element {
  return (
    <fieldset>
      <legend>What feeds them all</legend>
      <div class="fields">
        <NumberField label="Volts of the feed" unit="V" draft={feed.volt} />
        <NumberField
          label="Fuse in the feed"
          unit="A"
          draft={feed.fuse}
          hint="Without one, put one in first: 2 A does for four gauges."
        />
        <TextField
          label="What stabilises it"
          text={feed.stabiliser}
          onText={feed.setStabiliser}
          hint="As printed on it, with its rating. Empty: nothing."
        />
      </div>
      <Choice
        label="Where do the boxes' BATTERY - leads lie?"
        options={LEADS}
        chosen={feed.lead}
        onChoose={feed.setLead}
      />
      <p class="hint">Only on the bench&rsquo;s negative do they tell a bad ground from a weak feed.</p>
    </fieldset>
  );
}

function Trouble({ app }: { readonly app: App }): JSX.Element | null {
  const trouble = useSignal(app.trouble);
  return trouble === undefined ? null : (
    <Note kind="wrong">
      <p>{trouble.message}</p>
    </Note>
  );
}

const TITLES: Readonly<Record<Gauge['quantity'], string>> = {
  temperature: 'Temperature gauge',
  fuel: 'Fuel gauge',
  pressure: 'Pressure gauge',
  other: 'Gauge',
};

const jobOf = (gauge: Gauge, vehicle: string, place: string, simulated: boolean) => ({
  place,
  opening: {
    title: `${TITLES[gauge.quantity]}, ${place}`,
    gauge,
    vehicle,
    place: 'bench' as const,
    simulated,
  },
});

function simulatedOpening({ title, gauges }: SimulatedCluster): ClusterOpeningAsked {
  const vehicle = title.split(',')[0] ?? title;
  return {
    title: `Cluster of ${gauges.length}`,
    vehicle,
    feed: {},
    simulated: true,
    gauges: gauges.map(({ place, gauge }) => jobOf(gaugeOfSimulated(gauge), vehicle, place, true)),
  };
}

function realOpening(
  gauges: readonly GaugeDraft[],
  typed: string,
  feed: ClusterOpeningAsked['feed'],
): ClusterOpeningAsked {
  const vehicle = typed.trim() === '' ? 'Vehicle not named' : typed.trim();
  return {
    title: `Cluster of ${gauges.length}`,
    vehicle,
    feed,
    simulated: false,
    gauges: gauges.map(({ place, templateId, quantity, mechanism }) => {
      const known = templatesFor(quantity);
      const template = known.find(({ id }) => id === templateId) ?? known[0];
      if (template === undefined) throw new Error(`no dial for ${quantity}`);
      return jobOf({ mechanism, ...template.gauge }, vehicle, place.trim(), false);
    }),
  };
}

/** Simulated boxes first: the sheet finds them there. */
async function open(
  app: App,
  opening: ClusterOpeningAsked,
  simulated: SimulatedCluster | undefined,
): Promise<void> {
  if (simulated !== undefined)
    await app.useBox({
      kind: 'simulated-cluster',
      cluster: simulated.name,
      boxCount: simulated.gauges.length,
    });
  if (simulated !== undefined && app.trouble.get() !== undefined) return;
  const opened = await openNewCluster(opening);
  if (opened.kind === 'refused') return app.trouble.set(opened);
  location.replace(`#/cluster/${encodeURIComponent(opened.body.clusterId)}`);
}
