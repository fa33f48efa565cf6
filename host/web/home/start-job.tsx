import type { JSX } from 'preact';
import { useMemo, useState } from 'preact/hooks';
import type { Gauge, Opening } from '../../job/schema/gauge';
import type { HostInfo, SimulatedGauge } from '../../job/wire/host-messages';
import { Dial } from '../dial/dial';
import { faceOf } from '../dial/dial-geometry';
import type { App, MeasureWith } from '../app';
import { useSignal } from '../signal';
import { openNewJob } from '../connection/http';
import { MECHANISM_WORDS, QUANTITY_WORDS } from '../parts/words';
import { Choice, Pick } from '../parts/choice';
import { later } from '../parts/later';
import { Note } from '../parts/note';
import { TextField } from '../parts/text-field';
import { gaugeOfSimulated, templatesFor } from '../dial/templates';

/** Wanted by those whose dial is not among the known ones. */
const DialEditor = later(async () => (await import('../dial/dial-editor')).DialEditor);

const QUANTITIES = (['temperature', 'fuel', 'pressure', 'other'] as const).map((value) => ({
  value,
  words: QUANTITY_WORDS[value],
}));
const MECHANISMS = (
  ['unknown', 'thermal', 'two-coil', 'cross-coil', 'moving-coil', 'electronic'] as const
).map((value) => ({ value, words: value === 'unknown' ? 'Find out' : MECHANISM_WORDS[value] }));
const PLACES = [
  { value: 'car', words: 'In the car' },
  { value: 'bench', words: 'On the bench' },
] as const;
const BOXES = [
  { value: 'simulated', words: 'Simulated bench (try it out)' },
  { value: 'port', words: 'A real box' },
  { value: 'hand', words: 'Resistors or a potentiometer, by hand' },
] as const;
const TITLES: Readonly<Record<Gauge['quantity'], string>> = {
  temperature: 'Coolant temperature gauge',
  fuel: 'Fuel gauge',
  pressure: 'Oil pressure gauge',
  other: 'Gauge',
};
const COMPLAINTS = [
  'Reads high',
  'Reads low',
  'Does not move',
  'Changes when the lights go on',
  'New sender fitted',
];

/** The dial that the catalogue knows. */
const FROM_CATALOGUE = { id: 'catalogue', words: 'As in the catalogue' };

type Draft = {
  readonly gauge: Gauge;
  readonly templateId: string;
  readonly place: Opening['place'];
  readonly vehicle: string;
  readonly complaint: string;
  readonly box: MeasureWith;
  readonly simulated: SimulatedGauge | undefined;
};

const templateDraft = (quantity: Gauge['quantity']): { gauge: Gauge; templateId: string } => {
  const [template] = templatesFor(quantity);
  if (template === undefined) throw new Error(`no template for ${quantity}`);
  return { gauge: { mechanism: 'unknown', ...template.gauge }, templateId: template.id };
};

type StartJobProps = { readonly app: App; readonly wanted: Draft['box'] | undefined };

/** Everything a job starts from, with a default for each, in the order a person would say it. */
export function StartJob({ app, wanted }: StartJobProps): JSX.Element {
  const host = useSignal(app.host);
  return host === undefined ? (
    <p class="soft">Asking the host.</p>
  ) : (
    <StartForm app={app} host={host} wanted={wanted} />
  );
}

function firstDraft(host: HostInfo, wanted: Draft['box'] | undefined, from?: Gauge): Draft {
  const [simulated] = host.simulatedGauges;
  const start = { place: 'car' as const, vehicle: '', complaint: '' };
  if (from !== undefined) {
    const box = host.box.kind === 'port' ? 'port' : 'hand';
    return { gauge: from, templateId: FROM_CATALOGUE.id, ...start, box, simulated: undefined };
  }
  const box = wanted ?? (host.box.kind === 'port' ? 'port' : 'simulated');
  if (box !== 'simulated' || simulated === undefined) {
    const measured = box === 'simulated' ? 'port' : box;
    return { ...templateDraft('temperature'), ...start, box: measured, simulated: undefined };
  }
  return { ...templateDraft(simulated.quantity), ...start, ...simulatedDraft(simulated), box: 'simulated' };
}

const simulatedDraft = (simulated: SimulatedGauge): Pick<Draft, 'simulated' | 'gauge' | 'vehicle'> => ({
  simulated,
  gauge: gaugeOfSimulated(simulated),
  vehicle: simulated.title.split(',')[0] ?? simulated.title,
});

function StartForm({ app, host, wanted }: StartJobProps & { readonly host: HostInfo }): JSX.Element {
  const [draft, setDraft] = useState<Draft>(() => firstDraft(host, wanted, app.startFrom.get()));
  const [isBusy, setBusy] = useState(false);
  const change = (part: Partial<Draft>): void => setDraft({ ...draft, ...part });
  const chooseBox = (box: Draft['box']): void => {
    const [first] = host.simulatedGauges;
    if (box === 'simulated' && first !== undefined) change({ box, ...simulatedDraft(first) });
    else if (draft.box !== 'simulated') change({ box });
    else change({ box, simulated: undefined, vehicle: '', ...templateDraft(draft.gauge.quantity) });
  };
  const start = async (): Promise<void> => {
    setBusy(true);
    await begin(app, draft);
    setBusy(false);
  };
  return (
    <form
      class="stack start"
      onSubmit={(event) => {
        event.preventDefault();
        void start();
      }}
    >
      <Choice
        label="Measure with"
        options={host.simulatedGauges.length === 0 ? BOXES.slice(1) : BOXES}
        chosen={draft.box}
        onChoose={chooseBox}
      />
      {draft.box === 'simulated' ? (
        <SimulatedChoice host={host} draft={draft} change={change} />
      ) : (
        <GaugeQuestions draft={draft} change={change} />
      )}
      <Choice
        label="Where is it?"
        options={PLACES}
        chosen={draft.place}
        onChoose={(place) => change({ place })}
      />
      <div class="fields">
        <TextField label="Which vehicle?" text={draft.vehicle} onText={(vehicle) => change({ vehicle })} />
        <TextField
          label="What is wrong?"
          text={draft.complaint}
          onText={(complaint) => change({ complaint })}
          suggestions={COMPLAINTS}
        />
      </div>
      <Trouble app={app} />
      <div>
        <button type="submit" class="button button-main" disabled={isBusy}>
          Open the job sheet
        </button>
      </div>
    </form>
  );
}

/** A simulated vehicle brings its own dial; the person only picks one. */
function SimulatedChoice(props: QuestionsProps & { readonly host: HostInfo }): JSX.Element {
  const { host, draft, change } = props;
  const face = useMemo(() => faceOf(draft.gauge), [draft.gauge]);
  return (
    <div class="columns">
      <div class="stack">
        <Pick
          label="Which simulated vehicle?"
          options={host.simulatedGauges.map((each) => ({ value: each.name, words: each.title }))}
          chosen={draft.simulated?.name}
          onChoose={(name) => {
            const found = host.simulatedGauges.find((each) => each.name === name);
            if (found !== undefined) change(simulatedDraft(found));
          }}
        />
        <p class="hint">
          A drawn dash stands in for the car; its needle lags, sticks and scatters like a real one. Everything
          made with it is marked SIMULATED.
        </p>
      </div>
      <Dial face={face} fraction={0.5} label="Its dial" valueText={`${draft.gauge.marks.length} marks`} />
    </div>
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

type QuestionsProps = { readonly draft: Draft; readonly change: (part: Partial<Draft>) => void };

function GaugeQuestions({ draft, change }: QuestionsProps): JSX.Element {
  const { gauge } = draft;
  const face = useMemo(() => faceOf(gauge), [gauge]);
  const [isEditing, setEditing] = useState(false);
  const known = templatesFor(gauge.quantity);
  const options = draft.templateId === FROM_CATALOGUE.id ? [FROM_CATALOGUE, ...known] : known;
  const chooseTemplate = (id: string): void => {
    const template = known.find((each) => each.id === id);
    if (template !== undefined)
      change({ templateId: id, gauge: { mechanism: gauge.mechanism, ...template.gauge } });
  };
  return (
    <div class="columns">
      <div class="stack">
        <Choice
          label="What does the gauge show?"
          options={QUANTITIES}
          chosen={gauge.quantity}
          onChoose={(quantity) => change(templateDraft(quantity))}
        />
        <Pick
          label="What is printed on it?"
          options={options.map((template) => ({ value: template.id, words: template.words }))}
          chosen={draft.templateId}
          onChoose={chooseTemplate}
        />
        <Choice
          label="What moves the needle?"
          options={MECHANISMS}
          chosen={gauge.mechanism}
          onChoose={(mechanism) => change({ gauge: { ...gauge, mechanism } })}
        />
      </div>
      <div class="stack">
        {isEditing ? null : (
          <Dial face={face} fraction={0.5} label="Your dial" valueText={`${gauge.marks.length} marks`} />
        )}
        <details onToggle={(event) => setEditing(event.currentTarget.open)}>
          <summary>Make it look like mine</summary>
          <DialEditor gauge={gauge} onChange={(changed) => change({ gauge: changed })} />
        </details>
      </div>
    </div>
  );
}

/**
 * One tap: a job on the first simulated vehicle, with everything else as it stands on the form. It opens where the needle
 * moves; what is asked of a vehicle before waits at its station.
 */
export async function tryIt(app: App, host: HostInfo): Promise<void> {
  addEventListener('hashchange', () => app.opened.set('sweep'), { once: true });
  await begin(app, firstDraft(host, 'simulated'));
}

/** Chooses the box first: a job must not be opened as real and then measured on a simulated bench. */
async function begin(app: App, draft: Draft): Promise<void> {
  const isSimulated = draft.box === 'simulated' && draft.simulated !== undefined;
  if (isSimulated) await app.useBox({ kind: 'simulated', gauge: draft.simulated?.name ?? '' });
  if (app.trouble.get() !== undefined) return;
  const opened = await openNewJob({
    title: TITLES[draft.gauge.quantity],
    gauge: draft.gauge,
    vehicle: draft.vehicle.trim() === '' ? 'Vehicle not named' : draft.vehicle,
    place: draft.place,
    ...(draft.complaint.trim() === '' ? {} : { complaint: draft.complaint }),
    simulated: isSimulated,
  });
  if (opened.kind === 'refused') {
    app.trouble.set(opened);
    return;
  }
  const { jobId } = opened.body;
  if (draft.box === 'hand') app.inHand.choose(jobId, 'resistors');
  // Back from the sheet is where one came from, not a form of a job that is open already.
  location.replace(`#/job/${encodeURIComponent(jobId)}`);
}
