import type { ComponentProps, JSX } from 'preact';
import { useEffect, useMemo, useRef } from 'preact/hooks';
import type { JobCommand } from '../../../job/schema/commands';
import type { JobState, Sweep } from '../../../job/state/state';
import { countedReadings, currentStep } from '../../../job/state/views';
import type { LiveFrame } from '../../../job/wire/job-messages';
import { Dial } from '../../dial/dial';
import { faceOf, fractionFromReading } from '../../dial/dial-geometry';
import type { App } from '../../app';
import type { JobConnection } from '../../connection/job-connection';
import { confirmed, entryReading, UNSET } from '../../entry/entry';
import { shownMinutes, shownOhm, shownReading } from '../../parts/words';
import { LiveNumbers } from '../../parts/live-numbers';
import { Note } from '../../parts/note';
import { ConfirmFirst } from '../confirm-first';
import { Attending, isReader, TakeOver } from './attending';
import { UndoButton } from '../../parts/undo-button';
import { isPedal, usePageKeys } from './page-keys';
import { ReadingEntry } from '../../entry/reading-entry';
import { SeekEntry } from './seek-entry';
import { SweepActions } from './sweep-actions';
import { Prompt, WaitBar } from './wait';
import { asSentence } from '../../../words/sentence';
import { stepWhyWords } from '../../../words/sweep';

type RunningProps = {
  readonly app: App;
  readonly job: JobConnection;
  readonly state: JobState;
  readonly sweep: Sweep;
  readonly frame: LiveFrame;
};

/** A sweep under way or paused: what is asked, what is waited for, and who reads. */
export function RunningSweep(props: RunningProps): JSX.Element {
  const { app, job, state, sweep, frame } = props;
  const top = useRef<HTMLDivElement>(null);
  const isTripped = frame.trip !== undefined;
  // What to do now must be in sight the moment a sweep runs, on a phone too; a trip brings itself into sight.
  useEffect(() => {
    if (!isTripped) top.current?.scrollIntoView({ block: 'start' });
  }, [sweep.sweepId]);
  // Where the needle was put before this sweep says nothing about its first step.
  useEffect(() => app.entry.set(UNSET), [sweep.sweepId]);
  const step = frame.step ?? currentStep(sweep);
  const send = (command: JobCommand): void => void job.send(command);
  const isPaused = sweep.status.kind === 'paused';
  const reads = isReader(frame, job.screen);
  const attending = <Attending job={job} frame={frame} />;
  return (
    <div class="stack at-work" ref={top}>
      {isPaused ? null : (
        <>
          <Prompt waiting={frame.waiting} gauge={state.gauge} reader={reads ? undefined : frame.attending} />
          <WaitBar waiting={frame.waiting} isPulsing={frame.output.pulsing === true} />
        </>
      )}
      {reads || isPaused ? null : attending}
      {sweep.status.kind === 'paused' ? (
        <Paused reason={sweep.status.reason} isTripped={isTripped} state={state} send={send} />
      ) : reads ? (
        <Answer {...props} />
      ) : (
        <Watching {...props} />
      )}
      <SweepProgress frame={frame} />
      {reads || isPaused ? attending : null}
      <SweepActions
        sweep={sweep}
        stepId={step?.stepId}
        isReader={reads}
        hasReadings={countedReadings(state).length > 0}
        undo={<UndoButton job={job} state={state} group="sweep" words="Undo" />}
        send={send}
      />
      <LiveNumbers frame={frame} />
    </div>
  );
}

/** On every screen but the one that reads: what is going on, and one button to take the needle over. */
function Watching({ job, state, frame }: RunningProps): JSX.Element {
  const { gauge } = state;
  const face = useMemo(() => faceOf(gauge), [gauge]);
  const ghost = useGhost(state);
  const last = countedReadings(state).at(-1);
  return (
    <div class="entry">
      <TakeOver job={job} />
      <Dial
        face={face}
        fraction={ghost}
        label="The last reading"
        valueText={last === undefined ? 'none yet' : shownReading(last.reading, gauge)}
      />
      {frame.step?.aim.kind === 'mark' ? <p>Sought: {shownReading(frame.step.aim.reading, gauge)}.</p> : null}
    </div>
  );
}

function Paused(props: {
  readonly reason: string;
  readonly isTripped: boolean;
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
        {asSentence(props.reason)} The output is open; nothing is lost. Whoever goes on reads the needle from
        then on.
      </p>
      {props.isTripped ? (
        on
      ) : (
        <ConfirmFirst work="sweep" state={props.state} send={props.send}>
          {on}
        </ConfirmFirst>
      )}
    </Note>
  );
}

/** The notice with its remedy stands above the stations, on every view. */
const showTrip = (): void => document.querySelector('.notices')?.scrollIntoView({ block: 'center' });

function SweepProgress({ frame }: { readonly frame: LiveFrame }): JSX.Element | null {
  if (frame.progress === undefined) return null;
  const { done, total, minutesLeft } = frame.progress;
  const aim = frame.step?.aim;
  const leg =
    frame.step === undefined ? '' : frame.step.leg === 'up' ? ', needle going up' : ', needle going down';
  const why = stepWhyWords(frame.step?.why ?? 'plan');
  return (
    <p class="figure">
      <strong>
        Step {Math.min(done + 1, total)} of {total}
      </strong>
      {aim?.kind === 'resistance' ? ` at ${shownOhm(aim.resistanceOhm)}` : ''}
      {leg}; {shownMinutes(minutesLeft)} left.{why === undefined ? '' : ` ${why}`}
    </p>
  );
}

/** The last counted reading, as a faint mark on the dial: where the needle was. */
function useGhost(state: JobState): number | undefined {
  const last = countedReadings(state).at(-1);
  return last === undefined ? undefined : fractionFromReading(state.gauge.marks, last.reading);
}

function Answer({ app, job, state, frame, sweep }: RunningProps): JSX.Element {
  const { gauge } = state;
  const face = useMemo(() => faceOf(gauge), [gauge]);
  const ghost = useGhost(state);
  const stepId = frame.step?.stepId ?? currentStep(sweep)?.stepId;
  const isReady = frame.waiting.kind === 'answer' && stepId !== undefined;
  const confirm = (): void => {
    const entry = app.entry.get();
    const reading = entryReading(gauge, entry);
    if (!isReady || stepId === undefined || reading === undefined) return;
    void job.send({
      kind: 'give-reading',
      stepId,
      reading,
      ...(entry.atStop === undefined ? {} : { atStop: entry.atStop }),
    });
    app.entry.set(confirmed(entry));
  };
  if (frame.step?.aim.kind === 'mark') {
    return (
      <SeekEntry
        gauge={gauge}
        face={face}
        mark={frame.step.aim.reading}
        isReady={isReady}
        onAnswer={(needle) => {
          if (stepId !== undefined) void job.send({ kind: 'give-needle', stepId, needle });
        }}
      />
    );
  }
  return (
    <SteppedReading
      gauge={gauge}
      face={face}
      entry={app.entry}
      ghostFraction={ghost}
      isReady={isReady}
      onConfirm={confirm}
    />
  );
}

/** A foot pedal confirms what the needle was set to. */
function SteppedReading(props: ComponentProps<typeof ReadingEntry>): JSX.Element {
  usePageKeys((key) => {
    if (isPedal(key)) props.onConfirm();
    return isPedal(key);
  });
  return <ReadingEntry {...props} />;
}
