import type { ComponentProps, JSX } from 'preact';
import { useEffect, useLayoutEffect, useMemo, useRef } from 'preact/hooks';
import type { JobCommand } from '../../../job/schema/commands';
import { readingDoubt } from '../../../job/state/reading-doubt';
import type { JobState, Sweep } from '../../../job/state/state';
import { countedReadings, currentStep } from '../../../job/state/views';
import type { LiveFrame } from '../../../job/wire/job-messages';
import { Dial } from '../../dial/dial';
import { faceOf, fractionFromReading } from '../../dial/dial-geometry';
import type { App } from '../../app';
import type { JobConnection } from '../../connection/job-connection';
import { confirmed, entryReading, isMeant, UNSET } from '../../entry/entry';
import { shownOhm, shownReading } from '../../parts/words';
import { later } from '../../parts/later';
import { useSignal } from '../../signal';
import { LiveNumbers } from '../../parts/live-numbers';
import { Note } from '../../parts/note';
import { ConfirmFirst } from '../confirm-first';
import { Attending, isReader, TakeOver } from './attending';
import { UndoButton } from '../../parts/undo-button';
import { isPedal, usePageKeys } from './page-keys';
import { confirmNow, ReadingDial, ReadingHands, StopButtons } from '../../entry/reading-entry';
import { SimulatedDash } from '../../dial/simulated-dash';
import { ScreenHint } from './screen-hint';
import { SeekEntry } from './seek-entry';
import { SweepActions } from './sweep-actions';
import type { LooksLikeProps } from './looks-like';
import { Prompt, WaitBar } from './wait';
import { printed } from '../../../words/notation';
import { doubtWords } from '../../../words/reading-doubt';
import { asSentence } from '../../../words/sentence';
import { stepWhyWords } from '../../../words/sweep';

const LooksLikeLine = later<LooksLikeProps>(async () => (await import('./looks-like')).LooksLikeLine);

type RunningProps = {
  readonly app: App;
  readonly job: JobConnection;
  readonly state: JobState;
  readonly sweep: Sweep;
  readonly frame: LiveFrame;
};

/** A sweep under way or paused: what is asked, what is waited for, and who reads. */
export function RunningSweep(props: RunningProps): JSX.Element {
  const { app, job, sweep, frame } = props;
  // Where the needle was put before this sweep says nothing about its first step; nor what is typed at once is lost.
  useLayoutEffect(() => app.entry.set(UNSET), [sweep.sweepId]);
  // A needle put down after one step was confirmed and before the next one asks is no reading of the next one.
  useLayoutEffect(() => {
    const held = app.entry.get();
    if (held.stands === 'now') app.entry.set(confirmed(held));
  }, [stepOf(props)]);
  if (sweep.status.kind === 'paused') return <PausedSweep {...props} reason={sweep.status.reason} />;
  const reads = isReader(frame, job.screen);
  const isAsked = frame.waiting.kind === 'answer' && reads;
  return (
    <div class={`run ${isAsked ? 'run-read' : 'run-wait'}`} data-given={props.state.readings.length}>
      <section class="panel gauge" aria-label="The gauge">
        <Gauge {...props} reads={reads} isAsked={isAsked} />
        <LiveNumbers frame={frame} />
        <Attending job={job} frame={frame} />
      </section>
      <section class="say entry" aria-label="What to do">
        <Prompt
          waiting={frame.waiting}
          gauge={props.state.gauge}
          reader={reads ? undefined : frame.attending}
        />
        <WaitBar waiting={frame.waiting} isPulsing={frame.output.pulsing === true} />
        {isAsked ? <Answer {...props} /> : <Meanwhile {...props} reads={reads} />}
        <ScreenHint isShown={!isAsked && reads} />
        <Actions {...props} reads={reads} isAsked={isAsked} />
      </section>
    </div>
  );
}

/** The instrument: the simulated dash where there is one, and the drawn dial to be set, or resting on what was read last. */
function Gauge(props: RunningProps & { readonly reads: boolean; readonly isAsked: boolean }): JSX.Element {
  const { app, job, state, frame, isAsked } = props;
  const { gauge } = state;
  const face = useMemo(() => faceOf(gauge), [gauge]);
  const dash = useMemo(() => faceOf(state.printed ?? gauge), [state.printed, gauge]);
  const last = countedReadings(state).at(-1);
  const mark = frame.step?.aim.kind === 'mark' ? frame.step.aim.reading : undefined;
  const dial =
    mark !== undefined ? (
      <Dial
        face={face}
        fraction={undefined}
        targetFraction={fractionFromReading(gauge.marks, mark) ?? 0}
        label="The mark to reach"
        valueText={shownReading(mark, gauge)}
      />
    ) : isAsked ? (
      <ReadingDial {...readingProps(props)} entry={app.entry} face={face} />
    ) : (
      <Dial
        face={face}
        fraction={undefined}
        lastFraction={last === undefined ? undefined : fractionFromReading(gauge.marks, last.reading)}
        label="The last reading"
        valueText={last === undefined ? 'none yet' : shownReading(last.reading, gauge)}
      />
    );
  return (
    <>
      {state.simulated ? <SimulatedDash job={job} face={dash} /> : null}
      {dial}
    </>
  );
}

export const CurveSoFar = later(async () => (await import('./curve-view')).CurveSoFar);
export const SO_FAR_PIXEL = 150;

/** While nothing is asked: who may take the needle over, and what was read last. */
function Meanwhile(props: RunningProps & { readonly reads: boolean }): JSX.Element {
  const { job, state, frame, reads } = props;
  const last = countedReadings(state).at(-1);
  const mark = frame.step?.aim.kind === 'mark' ? frame.step.aim.reading : undefined;
  const findings = useSignal(job.findings.findings);
  const nowOhm = frame.output.madeOhm;
  const why = stepWhyWords(frame.step?.why ?? 'plan');
  return (
    <>
      {last === undefined ? null : (
        <CurveSoFar
          state={state}
          finding={findings?.curve}
          heightPixel={SO_FAR_PIXEL}
          {...(nowOhm === undefined ? {} : { nowOhm })}
        />
      )}
      {last === undefined ? null : (
        <p class="hint">
          Last read <span class="said">{shownReading(last.reading, state.gauge)}</span> at{' '}
          {shownOhm(last.resistanceOhm)}.
        </p>
      )}
      <LooksLikeLine
        state={state}
        sweep={props.sweep}
        isReader={reads}
        send={(command) => void job.send(command)}
      />
      {why === undefined ? null : <p class="hint">{why}</p>}
      {reads || mark === undefined ? null : <p>Sought: {shownReading(mark, state.gauge)}.</p>}
      {reads ? null : <TakeOver job={job} />}
    </>
  );
}

function Actions(props: RunningProps & { readonly reads: boolean; readonly isAsked: boolean }): JSX.Element {
  const { app, job, state, sweep, frame, reads, isAsked } = props;
  const isStepped = frame.step?.aim.kind !== 'mark';
  return (
    <SweepActions
      sweep={sweep}
      stepId={stepOf(props)}
      isReader={reads}
      hasReadings={countedReadings(state).length > 0}
      stops={isAsked && isStepped ? <StopButtons entry={app.entry} /> : null}
      undo={<UndoButton job={job} state={state} group="sweep" words="Undo" />}
      send={(command) => void job.send(command)}
    />
  );
}

const stepOf = ({ frame, sweep }: RunningProps): string | undefined =>
  frame.step?.stepId ?? currentStep(sweep)?.stepId;

/** What was read stays to be looked at while the sweep is paused; what comes next stands above it. */
function PausedSweep(props: RunningProps & { readonly reason: string }): JSX.Element {
  const { job, state, sweep, frame } = props;
  const top = useRef<HTMLDivElement>(null);
  const isTripped = frame.trip !== undefined;
  // What to do now must be in sight the moment a sweep pauses, on a phone too; a trip brings itself into sight.
  useEffect(() => {
    if (!isTripped) top.current?.scrollIntoView({ block: 'start' });
  }, []);
  const reads = isReader(frame, job.screen);
  return (
    <div class="stack at-work" ref={top}>
      <Paused
        reason={props.reason}
        isTripped={isTripped}
        isByHand={sweep.hand !== undefined}
        state={state}
        send={(command) => void job.send(command)}
      />
      <Attending job={job} frame={frame} />
      <SweepActions
        sweep={sweep}
        stepId={stepOf(props)}
        isReader={reads}
        hasReadings={countedReadings(state).length > 0}
        stops={null}
        undo={<UndoButton job={job} state={state} group="sweep" words="Undo" />}
        send={(command) => void job.send(command)}
      />
    </div>
  );
}

function Paused(props: {
  readonly reason: string;
  readonly isTripped: boolean;
  readonly isByHand: boolean;
  readonly state: JobState;
  readonly send: (command: JobCommand) => void;
}): JSX.Element {
  const on = (
    <button
      type="button"
      class="button button-main"
      onClick={() => (props.isTripped ? showTrip() : props.send({ kind: 'resume-sweep' }))}
    >
      {props.isTripped ? 'See the trip and clear it' : 'Go on with the sweep'}
    </button>
  );
  return (
    <Note kind="plain" word="Paused">
      <p class="prompt">{props.isTripped ? 'The box stopped the sweep.' : 'The sweep is paused.'}</p>
      <p>
        {asSentence(props.reason)} {props.isByHand ? 'Leave the wire free' : 'The output is open'}; nothing is
        lost. Whoever goes on reads the needle from then on.
      </p>
      {props.isTripped ? (
        <div>{on}</div>
      ) : (
        <ConfirmFirst work={props.isByHand ? 'by-hand' : 'sweep'} state={props.state} send={props.send}>
          <div>{on}</div>
        </ConfirmFirst>
      )}
    </Note>
  );
}

/** The notice with its remedy stands above the stations, on every view. */
const showTrip = (): void => document.querySelector('.notices')?.scrollIntoView({ block: 'center' });

type Given = Omit<ComponentProps<typeof ReadingHands>, 'entry' | 'face' | 'children'>;

/** What the step asks for and how it is given; the dial and the plate share it. */
function readingProps(props: RunningProps): Given {
  const { app, job, state, sweep, frame } = props;
  const { gauge } = state;
  const stepId = stepOf(props);
  const isReady = frame.waiting.kind === 'answer' && stepId !== undefined;
  const onConfirm = (): void => {
    const entry = app.entry.get();
    const reading = entryReading(gauge, entry);
    if (!isReady || reading === undefined || frame.step === undefined) return;
    const { sweepId } = sweep;
    const doubt = readingDoubt(state, { sweepId, aim: frame.step.aim }, reading);
    if (!isMeant(app.entry, doubtWords(doubt, printed, gauge.unit))) return;
    void job.send({
      kind: 'give-reading',
      stepId,
      reading,
      ...(entry.atStop === undefined ? {} : { atStop: entry.atStop }),
    });
    app.entry.set(confirmed(entry));
  };
  return { gauge, isReady, onConfirm };
}

function Answer(props: RunningProps): JSX.Element {
  const { app, job, state, frame } = props;
  const face = useMemo(() => faceOf(state.gauge), [state.gauge]);
  const stepId = stepOf(props);
  if (frame.step?.aim.kind === 'mark') {
    return (
      <SeekEntry
        gauge={state.gauge}
        mark={frame.step.aim.reading}
        isReady={stepId !== undefined}
        onAnswer={(needle) => {
          if (stepId !== undefined) void job.send({ kind: 'give-needle', stepId, needle });
        }}
      />
    );
  }
  return <SteppedReading {...readingProps(props)} entry={app.entry} face={face} />;
}

/** A foot pedal confirms what the needle was set to. */
function SteppedReading(props: ComponentProps<typeof ReadingHands>): JSX.Element {
  usePageKeys((key) => {
    if (isPedal(key)) confirmNow(props);
    return isPedal(key);
  });
  return <ReadingHands {...props} />;
}
