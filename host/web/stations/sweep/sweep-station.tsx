import type { ComponentChildren, JSX } from 'preact';
import { useEffect, useMemo, useRef } from 'preact/hooks';
import type { JobCommand } from '../../../job/commands';
import type { JobState, Sweep } from '../../../job/state';
import { countedReadings, currentStep, openSweep } from '../../../job/views';
import type { LiveFrame } from '../../../job/wire';
import { faceOf, fractionFromReading } from '../../dial/dial-geometry';
import type { App } from '../../model/app';
import type { Desk } from '../../model/desk';
import { entryReading, turned } from '../../model/entry';
import { useSignal } from '../../model/signal';
import { sentence, shownMinutes, shownOhm } from '../../model/words';
import { LiveNumbers } from '../../parts/live-numbers';
import { Note } from '../../parts/note';
import { CurveView } from './curve-view';
import { ReadingEntry } from './reading-entry';
import { SeekEntry } from './seek-entry';
import { SweepActions } from './sweep-actions';
import { SweepStart } from './sweep-start';
import { Prompt, WaitBar } from './wait';

type StationProps = { readonly app: App; readonly desk: Desk; readonly state: JobState };

/** The main job: the dial, what is waited for, and the curve drawing itself beside it. */
export function SweepStation({ app, desk, state }: StationProps): JSX.Element {
  const sweep = openSweep(state);
  const frame = useSignal(desk.live);
  const findings = useSignal(desk.findings.findings);
  const hasReadings = countedReadings(state).length > 0;
  const send = async (command: JobCommand): Promise<boolean> =>
    (await desk.send(command)).kind === 'accepted';
  return (
    <div class={hasReadings || sweep !== undefined ? 'columns' : 'stack'}>
      {sweep === undefined || frame === undefined ? (
        <BetweenSweeps app={app} hasReadings={hasReadings}>
          <SweepStart state={state} isAgain={hasReadings} hasBox={frame?.link.state === 'live'} send={send} />
        </BetweenSweeps>
      ) : (
        <RunningSweep app={app} desk={desk} state={state} sweep={sweep} frame={frame} />
      )}
      {hasReadings || sweep !== undefined ? (
        <CurveView state={state} finding={findings?.curve} send={(command) => void send(command)} />
      ) : null}
    </div>
  );
}

/** After a sweep the way on comes first; another sweep is there, but folded. */
function BetweenSweeps(props: {
  readonly app: App;
  readonly hasReadings: boolean;
  readonly children: ComponentChildren;
}): JSX.Element {
  if (!props.hasReadings) return <>{props.children}</>;
  return (
    <div class="stack">
      <p class="prompt">The sweep is on the sheet. Is the curve smooth enough?</p>
      <div>
        <button type="button" class="button button-main" onClick={() => props.app.opened.set('sender')}>
          On to the sender
        </button>
      </div>
      <details>
        <summary>Sweep again or add points</summary>
        {props.children}
      </details>
    </div>
  );
}

type RunningProps = StationProps & { readonly sweep: Sweep; readonly frame: LiveFrame };

function RunningSweep({ app, desk, state, sweep, frame }: RunningProps): JSX.Element {
  const top = useRef<HTMLDivElement>(null);
  // What to do now must be in sight the moment a sweep runs, on a phone too.
  useEffect(() => top.current?.scrollIntoView({ block: 'start' }), [sweep.sweepId]);
  const step = frame.step ?? currentStep(sweep);
  const send = (command: JobCommand): void => void desk.send(command);
  return (
    <div class="stack at-work" ref={top}>
      {sweep.status.kind === 'paused' ? null : (
        <>
          <Prompt waiting={frame.waiting} gauge={state.gauge} />
          <WaitBar waiting={frame.waiting} />
        </>
      )}
      {sweep.status.kind === 'paused' ? (
        <Paused reason={sweep.status.reason} isTripped={frame.trip !== undefined} send={send} />
      ) : (
        <Answer app={app} desk={desk} state={state} sweep={sweep} frame={frame} />
      )}
      <SweepProgress frame={frame} />
      <SweepActions
        sweep={sweep}
        stepId={step?.stepId}
        hasReadings={countedReadings(state).length > 0}
        send={send}
      />
      <LiveNumbers frame={frame} />
    </div>
  );
}

function Paused(props: {
  readonly reason: string;
  readonly isTripped: boolean;
  readonly send: (command: JobCommand) => void;
}): JSX.Element {
  return (
    <Note kind="plain" word="Paused">
      <p class="prompt">{props.isTripped ? 'The box stopped the sweep.' : 'The sweep is paused.'}</p>
      <p>{sentence(props.reason)} The output is open; nothing is lost.</p>
      <button
        type="button"
        class="button button-main"
        disabled={props.isTripped}
        onClick={() => props.send({ kind: 'resume-sweep' })}
      >
        {props.isTripped ? 'Clear the trip first' : 'Go on with the sweep'}
      </button>
    </Note>
  );
}

function SweepProgress({ frame }: { readonly frame: LiveFrame }): JSX.Element | null {
  if (frame.progress === undefined) return null;
  const { done, total, minutesLeft } = frame.progress;
  const aim = frame.step?.aim;
  const leg =
    frame.step === undefined ? '' : frame.step.leg === 'up' ? ', needle going up' : ', needle going down';
  return (
    <p class="figure">
      <strong>
        Step {Math.min(done + 1, total)} of {total}
      </strong>
      {aim?.kind === 'resistance' ? ` at ${shownOhm(aim.resistanceOhm)}` : ''}
      {leg}; {shownMinutes(minutesLeft)} left.
    </p>
  );
}

/** The last counted reading, as a faint mark on the dial: where the needle was. */
function useGhost(state: JobState): number | undefined {
  const last = countedReadings(state).at(-1);
  return last === undefined ? undefined : fractionFromReading(state.gauge.marks, last.reading);
}

function Answer({ app, desk, state, frame, sweep }: RunningProps): JSX.Element {
  const { gauge } = state;
  const face = useMemo(() => faceOf(gauge), [gauge]);
  const ghost = useGhost(state);
  const stepId = frame.step?.stepId ?? currentStep(sweep)?.stepId;
  const isReady = frame.waiting.kind === 'answer' && stepId !== undefined;
  const confirm = (): void => {
    const entry = app.entry.get();
    const reading = entryReading(gauge, entry);
    if (!isReady || stepId === undefined || reading === undefined) return;
    void desk.send({
      kind: 'give-reading',
      stepId,
      reading,
      ...(entry.atStop === undefined ? {} : { atStop: entry.atStop }),
    });
    app.entry.set(turned(entry.fraction));
  };
  usePedal(confirm);
  if (sweep.mode === 'seek' && frame.step?.aim.kind === 'mark') {
    return (
      <SeekEntry
        gauge={gauge}
        face={face}
        mark={frame.step.aim.reading}
        isReady={isReady}
        onAnswer={(needle) => {
          if (stepId !== undefined) void desk.send({ kind: 'give-needle', stepId, needle });
        }}
      />
    );
  }
  return (
    <ReadingEntry
      gauge={gauge}
      face={face}
      entry={app.entry}
      ghostFraction={ghost}
      isReady={isReady}
      onConfirm={confirm}
    />
  );
}

const CONTROLS = 'button, input, select, textarea, a, summary, [role="slider"]';
const PEDAL_KEYS: readonly string[] = ['Enter', ' ', 'PageDown'];

/** A foot pedal is a keyboard with one key: outside any control, the keys that pedals send confirm the reading. */
function usePedal(confirm: () => void): void {
  useEffect(() => {
    const onKeyDown = (event: KeyboardEvent): void => {
      const isInControl = event.target instanceof Element && event.target.closest(CONTROLS) !== null;
      if (isInControl || event.repeat || !PEDAL_KEYS.includes(event.key)) return;
      event.preventDefault();
      confirm();
    };
    window.addEventListener('keydown', onKeyDown);
    return () => window.removeEventListener('keydown', onKeyDown);
  }, [confirm]);
}
