import type { JSX } from 'preact';
import { useRef, useState } from 'preact/hooks';
import { stillToConfirm, confirmations } from '../../job/state/confirmations';
import type { ClusterState } from '../../job/state/cluster-state';
import type { JobState } from '../../job/state/state';
import type { ClusterFrame } from '../../job/wire/cluster-messages';
import { neighboursOf } from '../../job/state/cluster-sheet';
import type { App } from '../app';
import type { ClusterConnection } from '../connection/cluster-connection';
import { clusterAgain, clusterFileAddress, portListing } from '../connection/http';
import type { JobConnection } from '../connection/job-connection';
import { Choice } from '../parts/choice';
import { Fold } from '../parts/fold';
import { Note } from '../parts/note';
import { TextField } from '../parts/text-field';
import { useSignal } from '../signal';
import { Conditions } from './conditions';
import { Dashes } from './dashes';
import { Neighbours } from './neighbours';
import { sweptWords } from '../../words/cluster';
import { useStates } from './use-states';

type StandingProps = {
  readonly app: App;
  readonly cluster: ClusterConnection;
  readonly state: ClusterState;
  readonly frame: ClusterFrame;
};

type Step = 'boxes' | 'roll-call' | 'neighbours' | 'sweep' | 'done';

/** What comes next, by what is known already; by hand nothing of it is needed. */
function stepOf({ state, frame, states }: NextProps): Step {
  const isSwept = (job: JobState | undefined): boolean =>
    job?.sweeps.some((each) => each.state === state.state && each.status.kind === 'finished') === true;
  if (states.length > 0 && states.every(isSwept)) return 'done';
  if (frame.boxes.length < state.gauges.length) return 'boxes';
  if (!frame.isCalled) return 'roll-call';
  return neighboursOf(state) === undefined ? 'neighbours' : 'sweep';
}

/** The sheet while nothing is driven: what comes next, what was found and left, what the gauges do to each other. */
export function Standing(props: StandingProps): JSX.Element {
  const { cluster, state } = props;
  const jobs = useSignal(cluster.jobs);
  const states = useStates(jobs);
  return (
    <section class="station stack cluster-sheet" aria-label="The cluster">
      <Next {...props} jobs={jobs} states={states} />
      <Dashes jobs={jobs} />
      <h2>As found and as left</h2>
      <Conditions app={props.app} cluster={cluster} />
      <h2>What the gauges do to each other</h2>
      <Neighbours state={state} />
      <About state={state} />
      <p class="row screen-only">
        {PAPERS.map(({ paper, words }) => (
          <a
            key={paper}
            class="button button-plain"
            href={clusterFileAddress(cluster.clusterId, paper)}
            download
          >
            {words}
          </a>
        ))}
      </p>
      <Again {...props} />
    </section>
  );
}

const PAPERS = [
  { paper: 'a4', words: 'PDF file, A4' },
  { paper: 'letter', words: 'PDF file, Letter' },
] as const;

type NextProps = StandingProps & {
  readonly jobs: readonly JobConnection[];
  readonly states: readonly (JobState | undefined)[];
};

function Next(props: NextProps): JSX.Element {
  const { cluster, state } = props;
  const { length } = state.gauges;
  const right = useSignal(cluster.right);
  if (right === 'watch') return <p>This device watches; the sheet follows by itself.</p>;
  switch (stepOf(props)) {
    case 'boxes':
      return <Boxes {...props} />;
    case 'roll-call':
      return (
        <Plate
          heading="Which box is on which gauge?"
          says="Each box moves its needle once, cold, and you say which one moved. Nothing else is driven before."
          words="Call the roll"
          onPress={() => void cluster.send({ kind: 'call-roll' })}
        />
      );
    case 'neighbours':
      return (
        <Plate
          heading="What do the gauges do to each other?"
          says="One gauge goes from end to end while the others rest; the boxes' meters see what it does. It takes minutes and needs no eyes."
          words="Test the neighbours"
          onPress={() => void cluster.send({ kind: 'test-neighbours' })}
        >
          <SweepNow {...props} isPlain words="Sweep without" />
        </Plate>
      );
    case 'sweep':
      return (
        <Plate
          heading={`Sweep all ${length}, ${state.state === 'as-left' ? 'as left' : 'as found'}`}
          says="Whichever needle has settled is asked for; the others settle meanwhile."
          below={<Condition {...props} />}
        >
          <SweepNow {...props} words="Start the sweep" />
        </Plate>
      );
    case 'done':
      return <Done {...props} />;
  }
}

function Plate(props: {
  readonly heading: string;
  readonly says: string;
  readonly words?: string;
  readonly onPress?: () => void;
  readonly below?: JSX.Element;
  readonly children?: JSX.Element | JSX.Element[];
}): JSX.Element {
  return (
    <div class="stack screen-only">
      <h2>{props.heading}</h2>
      <p>{props.says}</p>
      <div class="row plate-at-thumb">
        {props.words === undefined ? null : (
          <button type="button" class="button button-main" onClick={props.onPress}>
            {props.words}
          </button>
        )}
        {props.children}
      </div>
      {props.below}
    </div>
  );
}

/** A heater of unknown kind, and the like: asked once of them all. */
function SweepNow(props: NextProps & { readonly words: string; readonly isPlain?: boolean }): JSX.Element {
  const { cluster, states, words, isPlain = false } = props;
  const asked = [
    ...new Set(states.flatMap((job) => (job === undefined ? [] : stillToConfirm('sweep', job)))),
  ];
  const start = async (): Promise<void> => {
    for (const confirmation of asked) await cluster.send({ kind: 'confirm-safety', confirmation });
    await cluster.send({ kind: 'start-sweep', choice: { mode: 'step-and-read' } });
  };
  return (
    <>
      {asked.map((each) => (
        <p key={each}>{confirmations[each].asks}</p>
      ))}
      <button type="button" class={isPlain ? 'button' : 'button button-main'} onClick={() => void start()}>
        {asked.length === 0 ? words : `That is so: ${words.toLowerCase()}`}
      </button>
    </>
  );
}

const CONDITIONS = [
  { value: 'as-found', words: 'As found' },
  { value: 'as-left', words: 'As left' },
] as const;

const Condition = ({ cluster, state }: NextProps): JSX.Element => (
  <Choice
    label="The gauges are"
    options={CONDITIONS}
    chosen={state.state}
    onChoose={(next) => void cluster.send({ kind: 'declare-state', state: next })}
  />
);

/** No box, or too few: look for them, or go on by hand. */
function Boxes({ app, cluster, state, frame, jobs, states }: NextProps): JSX.Element {
  const host = useSignal(app.host);
  const wanted = state.gauges.length;
  const simulated = host?.simulatedClusters.find(
    ({ gauges }) =>
      gauges.length >= wanted && state.gauges.every(({ place }, at) => gauges[at]?.place === place),
  );
  const plugIn = async (): Promise<void> => {
    if (simulated !== undefined && state.simulated)
      return app.useBox({ kind: 'simulated-cluster', cluster: simulated.name, boxCount: wanted });
    const answer = await portListing();
    if (answer.kind === 'refused') return cluster.refusal.set(answer);
    const paths = answer.body.ports.filter(({ isLikely }) => isLikely).map(({ path }) => path);
    const [first] = paths;
    if (first === undefined)
      return cluster.refusal.set({
        kind: 'refused',
        code: 'NO_PORTS',
        message: 'No box was found at a USB port. Plug them in, or sweep by hand, one gauge after the other.',
      });
    return app.useBox(paths.length === 1 ? { kind: 'port', path: first } : { kind: 'ports', paths });
  };
  const next = jobs.find((_, at) => states[at]?.sweeps.some((each) => each.state === state.state) !== true);
  return (
    <Plate
      heading={`${frame.boxes.length === 0 ? 'No box answers' : `${frame.boxes.length} of ${wanted} boxes answer`}`}
      says={
        state.simulated
          ? 'The simulated boxes stand ready; every sheet made with them says SIMULATED.'
          : 'Plug in one box a gauge. Without boxes resistors do, one gauge after the other.'
      }
      words={state.simulated ? 'Plug in the simulated boxes' : 'Look for the boxes'}
      onPress={() => void plugIn()}
    >
      {next === undefined || state.simulated ? (
        <></>
      ) : (
        <button
          type="button"
          class="button"
          onClick={() => sweepByHand(app, cluster.clusterId, next.jobId, state.state)}
        >
          By hand: {next.place}
        </button>
      )}
    </Plate>
  );
}

/** One gauge after the other, each on its own sheet; the cluster's shows what became of it. */
function sweepByHand(app: App, clusterId: string, jobId: string, condition: ClusterState['state']): void {
  app.inHand.choose(jobId, 'resistors');
  app.inHand.cameFrom(jobId, clusterId, condition);
  addEventListener('hashchange', () => app.opened.set('sweep'), { once: true });
  location.hash = `#/job/${encodeURIComponent(jobId)}`;
}

function Done({ cluster, state, ...rest }: NextProps): JSX.Element {
  const isLeft = state.state === 'as-left';
  return (
    <Plate
      heading={isLeft ? 'Swept as found and as left' : 'Swept as found'}
      says={
        isLeft
          ? 'The sheet is complete.'
          : 'Set what is to be set, note it at each gauge below, and sweep again as left.'
      }
      words="Print the sheet"
      onPress={() => print()}
    >
      {isLeft ? (
        <></>
      ) : (
        <button
          type="button"
          class="button"
          onClick={() => void cluster.send({ kind: 'declare-state', state: 'as-left' })}
        >
          Now as left
        </button>
      )}
      <SweepNow {...rest} cluster={cluster} state={state} words="Sweep again" isPlain />
    </Plate>
  );
}

function About({ state }: { readonly state: ClusterState }): JSX.Element {
  const { feed } = state;
  const fed = [
    ...(feed.volt === undefined ? [] : [`${feed.volt} V`]),
    ...(feed.stabiliser === undefined ? [] : [feed.stabiliser]),
    ...(feed.fuseAmpere === undefined ? [] : [`fuse ${feed.fuseAmpere} A`]),
  ];
  return (
    <div>
      <p>
        Feed: {fed.length === 0 ? 'not noted' : fed.join(', ')}. Boxes:{' '}
        {state.gauges
          .map(
            ({ place, boxSerial }) => `${place} ${boxSerial === undefined ? 'none' : `number ${boxSerial}`}`,
          )
          .join(', ')}
        .
      </p>
      {sweptWords(state).map(({ how, readings, minutes, leastMinutes }, at) => (
        <p key={at} class="soft">
          {readings} readings in {minutes.toFixed(1)} min, {how}
          {leastMinutes === undefined ? '' : `; no order could take less than ${leastMinutes.toFixed(1)} min`}
          .
        </p>
      ))}
    </div>
  );
}

/** The next cluster of the same kind: descriptions copied, readings not. */
function Again({ cluster, state }: StandingProps): JSX.Element {
  const [vehicle, setVehicle] = useState('');
  const isBegun = useRef(false);
  // Pressed twice it is one: the next press is the next cluster's.
  const begin = async (): Promise<void> => {
    if (isBegun.current) return;
    isBegun.current = true;
    const answer = await clusterAgain(cluster.clusterId, vehicle.trim());
    isBegun.current = false;
    if (answer.kind === 'refused') cluster.refusal.set(answer);
    else location.hash = `#/cluster/${encodeURIComponent(answer.body.clusterId)}`;
  };
  return (
    <div class="screen-only">
      <Fold line="Same again" says="a new sheet with these gauges and places, and no readings">
        <TextField
          label="Which vehicle is the next one?"
          text={vehicle}
          onText={setVehicle}
          hint={`Empty: ${state.vehicle}`}
        />
        <div>
          <button type="button" class="button" onClick={() => void begin()}>
            Begin the next one
          </button>
        </div>
      </Fold>
      <p>
        <a href="#/clusters">All clusters</a>
      </p>
    </div>
  );
}

/** Why what was done last came to nothing. */
export const Trouble = ({ frame }: { readonly frame: ClusterFrame }): JSX.Element | null =>
  frame.trouble === undefined ? null : (
    <Note kind="wrong">
      <p>{frame.trouble}</p>
    </Note>
  );
