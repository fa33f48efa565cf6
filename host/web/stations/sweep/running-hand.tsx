import type { JSX } from 'preact';
import { useLayoutEffect, useMemo } from 'preact/hooks';
import { measureHookUp, potentiometerHookUp, resistorHookUp, switchHookUp } from '../../../job/hook-up';
import { handAskOf, isAskedFor, leastOhmNow, type HandSweep } from '../../../job/state/hand-step';
import { readingDoubt } from '../../../job/state/reading-doubt';
import type { JobState, SweepStep } from '../../../job/state/state';
import { countedReadings, currentStep } from '../../../job/state/views';
import type { LiveFrame } from '../../../job/wire/job-messages';
import { askWords, otherOhmWords, type AskWords } from '../../../words/by-hand';
import { printed } from '../../../words/notation';
import { doubtWords } from '../../../words/reading-doubt';
import type { App } from '../../app';
import type { JobConnection } from '../../connection/job-connection';
import { Dial } from '../../dial/dial';
import { faceOf, fractionFromReading } from '../../dial/dial-geometry';
import { confirmed, entryReading, isMeant, UNSET } from '../../entry/entry';
import { ReadingDial, ReadingHands, StopButtons } from '../../entry/reading-entry';
import { later } from '../../parts/later';
import { UndoButton } from '../../parts/undo-button';
import { shownOhm, shownReading } from '../../parts/words';
import { useSignal } from '../../signal';
import { Attending, isReader, TakeOver } from './attending';
import { OhmsEntry } from './ohms-entry';
import { CurveSoFar, SO_FAR_PIXEL } from './running-sweep';
import { ScreenHint } from './screen-hint';
import { SweepActions } from './sweep-actions';
import { Prompt, WaitBar } from './wait';

const LeadsFold = later(async () => (await import('../leads-fold')).LeadsFold);

type HandProps = {
  readonly app: App;
  readonly job: JobConnection;
  readonly state: JobState;
  readonly sweep: HandSweep;
  readonly frame: LiveFrame;
};
/** What one cannot do to a needle that is not on, or was read already. */
const meaningless = (waiting: LiveFrame['waiting']['kind']): readonly string[] =>
  waiting === 'put-on'
    ? ['Not steady', 'Repeat']
    : waiting === 'measure'
      ? ['Not steady', 'Repeat', 'Skip']
      : [];

type StepProps = HandProps & { readonly step: SweepStep };

/** A sweep without a box: put on, wait, read, measure; each looks different from across a garage. */
export function RunningHand(props: HandProps): JSX.Element {
  const { app, job, state, sweep, frame } = props;
  const step = currentStep(sweep);
  useLayoutEffect(() => app.entry.set(UNSET), [step?.stepId]);
  const reads = isReader(frame, job.screen);
  const look = frame.waiting.kind === 'settling' ? 'run-wait' : 'run-read';
  return (
    <div class={`run run-hand ${look}`} data-given={state.readings.length}>
      <section class="panel gauge" aria-label="The gauge">
        {frame.waiting.kind === 'answer' && reads && step !== undefined ? (
          <ReadDial {...props} step={step} />
        ) : (
          <LastDial {...props} step={step} />
        )}
        <LastPut {...props} />
        <Attending job={job} frame={frame} />
      </section>
      <section class="say entry" aria-label="What to do">
        <ScreenHint isShown={false} />
        {step === undefined ? (
          <p class="prompt">Nothing is left to put on.</p>
        ) : reads ? (
          <Now {...props} step={step} />
        ) : (
          <>
            <Prompt waiting={frame.waiting} gauge={state.gauge} reader={frame.attending} />
            <TakeOver job={job} />
          </>
        )}
        <SweepActions
          sweep={sweep}
          stepId={step?.stepId}
          isReader={reads}
          hasReadings={countedReadings(state).length > 0}
          stops={frame.waiting.kind === 'answer' && reads ? <StopButtons entry={app.entry} /> : null}
          undo={<UndoButton job={job} state={state} group="sweep" words="Undo" />}
          send={(command) => void job.send(command)}
          without={meaningless(frame.waiting.kind)}
        />
      </section>
    </div>
  );
}

function Now(props: StepProps): JSX.Element {
  const { job, state, sweep, step, frame } = props;
  const words = useMemo(
    () => askWords(handAskOf(state, sweep, step), printed, state.gauge.unit),
    [state.lastN, step.stepId],
  );
  const { stepId } = step;
  switch (frame.waiting.kind) {
    case 'settling':
      return (
        <>
          <Prompt waiting={frame.waiting} gauge={state.gauge} />
          <WaitBar waiting={frame.waiting} isPulsing={false} />
          <SoFar {...props} />
        </>
      );
    case 'answer':
      return <Read {...props} />;
    case 'measure':
      return (
        <>
          <p class="prompt">Measure it by itself</p>
          <p class="hint">{offWords(state)}, pull the clips. Across it and its fixed resistor together.</p>
          <OhmsEntry
            key={`${stepId} measure`}
            says={(ohm) => `It was ${shownOhm(ohm)}`}
            onGive={(shownOhm) => void job.send({ kind: 'give-ohms', stepId, shownOhm })}
          />
          <LeadsFold hookUp={measureHookUp(state)} isOpen={false} />
        </>
      );
    case 'put-on':
    case 'nothing':
    case 'moving':
    case 'box':
    case 'person':
      return <PutOn {...props} words={words} />;
  }
}

const offWords = ({ place }: JobState): string => (place === 'car' ? 'Ignition off' : 'Supply off');

/** What to put on, what will do instead, what the ohmmeter shows of it. */
function PutOn(props: StepProps & { readonly words: AskWords }): JSX.Element {
  const { job, state, sweep, step, words } = props;
  const ask = useMemo(() => handAskOf(state, sweep, step), [state.lastN, step.stepId]);
  const { stepId } = step;
  const { tools, ohmmeter } = sweep.hand;
  const isAsked = (ohm: number): boolean =>
    ask.kind === 'put-on' && isAskedFor(ask, ohm - (ohmmeter.leadsOhm ?? 0), leastOhmNow(state, sweep));
  const isSwitch = tools.way === 'resistors' && tools.hasSwitch === true;
  const hookUp =
    ask.kind === 'put-on'
      ? isSwitch
        ? switchHookUp(state)
        : resistorHookUp(state)
      : potentiometerHookUp(state);
  return (
    <>
      <p class="prompt" role="status" aria-live="assertive">
        {words.head}
      </p>
      <p class="hint">
        {ask.kind === 'put-on' && !isSwitch ? `${offWords(state)} while you clip. ` : ''}
        {words.how}
      </p>
      {ask.kind === 'put-on' ? (
        <OhmsEntry
          key={stepId}
          says={(ohm) => (isAsked(ohm) ? words.done : `Yes, ${shownOhm(ohm)} is on`)}
          doubt={(ohm) =>
            isAsked(ohm) || ask.kind !== 'put-on' ? undefined : otherOhmWords(ask, ohm, printed)
          }
          onGive={(ohm) =>
            void job.send({
              kind: 'put-on',
              stepId,
              shownOhm: ohm,
              // The plate has said that it is another.
              ...(isAsked(ohm) ? {} : { isOtherMeant: true }),
            })
          }
        />
      ) : (
        <div class="hands">
          <div class="plate-row">
            <button
              type="button"
              class="button button-main button-wide"
              onClick={() => void job.send({ kind: 'put-on', stepId })}
            >
              {words.done}
            </button>
          </div>
        </div>
      )}
      <LeadsFold hookUp={hookUp} isOpen={false} />
    </>
  );
}

function SoFar({ job, state }: HandProps): JSX.Element | null {
  const findings = useSignal(job.findings.findings);
  if (countedReadings(state).length === 0) return null;
  return <CurveSoFar state={state} finding={findings?.curve} heightPixel={SO_FAR_PIXEL} />;
}

/** What the step asks for and how it is given; the dial and the plate share it. */
function entryProps({ app, job, state, sweep, step }: StepProps) {
  const { gauge } = state;
  const onConfirm = (): void => {
    const entry = app.entry.get();
    const reading = entryReading(gauge, entry);
    if (reading === undefined) return;
    const doubt = readingDoubt(state, { sweepId: sweep.sweepId, aim: step.aim }, reading);
    if (!isMeant(app.entry, doubtWords(doubt, printed, gauge.unit))) return;
    const { stepId } = step;
    const atStop = entry.atStop === undefined ? {} : { atStop: entry.atStop };
    void job.send({ kind: 'give-reading', stepId, reading, ...atStop });
    app.entry.set(confirmed(entry));
  };
  return { gauge, isReady: true, onConfirm };
}

function Read(props: StepProps): JSX.Element {
  const { app, state, frame } = props;
  const face = useMemo(() => faceOf(state.gauge), [state.gauge]);
  return (
    <>
      <Prompt waiting={frame.waiting} gauge={state.gauge} />
      <ReadingHands {...entryProps(props)} entry={app.entry} face={face} />
    </>
  );
}

function ReadDial(props: StepProps): JSX.Element {
  const face = useMemo(() => faceOf(props.state.gauge), [props.state.gauge]);
  return <ReadingDial {...entryProps(props)} entry={props.app.entry} face={face} />;
}

/** The dial with the mark that is sought, and the needle where it was read last. */
function LastDial({ state, step }: HandProps & { readonly step: SweepStep | undefined }): JSX.Element {
  const { gauge } = state;
  const face = useMemo(() => faceOf(gauge), [gauge]);
  const last = countedReadings(state).at(-1);
  const mark = step?.aim.kind === 'mark' ? step.aim.reading : undefined;
  const place = (reading: number): number | undefined => fractionFromReading(gauge.marks, reading);
  return (
    <Dial
      face={face}
      fraction={undefined}
      lastFraction={last === undefined ? undefined : place(last.reading)}
      {...(mark === undefined ? {} : { targetFraction: place(mark) ?? 0 })}
      label={mark === undefined ? 'The last reading' : 'The mark to come near'}
      valueText={last === undefined ? 'none yet' : shownReading(last.reading, gauge)}
    />
  );
}

const watts = (watt: number): string => `${Number(watt.toPrecision(2))} W`;

function LastPut({ state, sweep }: HandProps): JSX.Element {
  const step = currentStep(sweep);
  const ask = useMemo(
    () => (step === undefined ? undefined : handAskOf(state, sweep, step)),
    [state.lastN, step?.stepId],
  );
  const last = countedReadings(state).at(-1);
  const rows: readonly (readonly [string, string])[] = [
    ...(last === undefined
      ? []
      : ([
          ['Last put on', shownOhm(last.resistanceOhm)],
          ['It read', shownReading(last.reading, state.gauge)],
        ] as const)),
    ...(ask?.kind === 'put-on' ? ([['Will get at most', watts(ask.watt)]] as const) : []),
  ];
  return (
    <dl class="live-numbers">
      {rows.map(([name, value]) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
}
