import type { JSX } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { JobCommand } from '../../../job/schema/commands';
import { ohmmeterHookUp } from '../../../job/hook-up';
import type { JobState } from '../../../job/state/state';
import { countedSenderPoints } from '../../../job/state/views';
import type { SenderWatchLive } from '../../../job/wire/job-messages';
import { motionOf } from './bath-motion';
import type { JobConnection } from '../../connection/job-connection';
import { useSignal } from '../../signal';
import { changeWorld } from '../../connection/http';
import { senderWords, type SenderWords } from './sender-words';
import type { Tones } from '../../parts/tones';
import { shownOhm, shownUnit } from '../../parts/words';
import { Note } from '../../parts/note';
import { NumberField, useNumberDraft } from '../../parts/number-field';
import { LeadsFold } from '../leads-fold';
import { BathTrace } from './bath-trace';
import { HeatingCheck } from './heating-check';
import { SimulatedBath } from './simulated-bath';
import { asSentence } from '../../../words/sentence';

type CoolingLogProps = {
  readonly sender: JobState['senders'][number];
  readonly state: JobState;
  readonly job: JobConnection;
  readonly tones: Tones;
};

/** The box measures the sender by itself, all the time; the person gives the thermometer and nothing else. */
export function CoolingLog({ sender, state, job, tones }: CoolingLogProps): JSX.Element {
  const frame = useSignal(job.live);
  const words = senderWords(state, sender.unit);
  const isLive = frame?.link.state === 'live';
  const watch = frame?.watch?.senderId === sender.senderId ? frame.watch : undefined;
  const send = (command: JobCommand): void => void job.send(command);
  const hasStarted = useRef(false);
  const last = countedSenderPoints(state, sender.senderId).at(-1)?.n;
  useEffect(
    () => () => {
      // Whoever started it went elsewhere on the sheet: the box rests, and the simulated clips go back on the dash.
      if (!hasStarted.current) return;
      void job.send({ kind: 'end-watch' });
      if (state.simulated) void changeWorld({ bath: 'off' });
    },
    [],
  );
  const go = (): void => {
    hasStarted.current = true;
    send({ kind: 'watch-sender', senderId: sender.senderId });
  };
  if (!isLive) return <p>No box is connected. Connect one, or type the points of a meter.</p>;
  return (
    <div class="stack">
      {state.simulated ? (
        <SimulatedBath job={job} unit={sender.unit} gauge={state.printed ?? state.gauge} />
      ) : null}
      {watch === undefined ? (
        <>
          <p class="prompt">Connect the sender, and nothing else, to the box. {words.start}</p>
          <LeadsFold hookUp={ohmmeterHookUp(state)} isOpen={!state.simulated} />
          <div>
            <button type="button" class="button button-main" onClick={go}>
              Start: the box measures by itself
            </button>
          </div>
        </>
      ) : (
        <>
          <WatchLine watch={watch} isTemperature={state.gauge.quantity === 'temperature'} />
          {watch.status === 'heating' ? null : (
            <ThermometerEntry
              key={sender.unit}
              watch={watch}
              sender={sender}
              job={job}
              tones={tones}
              words={words}
              isFirst={hasStarted.current}
            />
          )}
          <WatchActions watch={watch} last={last} send={send} go={go} />
          {state.gauge.quantity === 'temperature' ? (
            <HeatingCheck watch={watch} state={state} sender={sender} job={job} />
          ) : null}
        </>
      )}
    </div>
  );
}

/** What the box sees, how fast it moves, and what that is worth; it changes all the time, so no reader is told each change. */
function WatchLine(props: { readonly watch: SenderWatchLive; readonly isTemperature: boolean }): JSX.Element {
  const { watch } = props;
  const motion = motionOf(watch);
  return (
    <div class="stack">
      <p class="reading-now" data-watch={watch.status}>
        {watch.resistanceOhm === undefined ? 'measuring' : shownOhm(watch.resistanceOhm)}
      </p>
      <p class="hint figure">
        {motion === undefined
          ? 'How fast it moves is known in a few seconds.'
          : driftWords(motion.ohmPerMinute)}
        {motion !== undefined && props.isTemperature
          ? ` That is about ${motion.kelvinPerMinute.toFixed(1)} \u00b0C a minute: a sender that follows 20 s late is ${motion.lagKelvin.toFixed(1)} \u00b0C behind the thermometer. Stir.`
          : ''}
      </p>
      <BathTrace watch={watch} />
      {watch.trouble === undefined ? null : (
        <Note kind="wrong" word="The box cannot measure">
          <p>{asSentence(watch.trouble)} It tries again by itself.</p>
        </Note>
      )}
    </div>
  );
}

const driftWords = (ohmPerMinute: number): string =>
  `${ohmPerMinute < 0 ? 'Falling' : 'Rising'} ${shownOhm(Math.abs(ohmPerMinute))} a minute.`;

type EntryProps = {
  readonly watch: SenderWatchLive;
  readonly sender: JobState['senders'][number];
  readonly job: JobConnection;
  readonly tones: Tones;
  readonly words: SenderWords;
  /** The person has just pressed start here: the hands are free for the field. */
  readonly isFirst: boolean;
};

const promptsOf = ({
  look,
  tooFast,
}: SenderWords): Readonly<Record<NonNullable<SenderWatchLive['propose']> | 'wait', string>> => ({
  steady: `It stands still: ${look} now.`,
  moved: `Far enough from the last point: ${look} now.`,
  'too-fast': tooFast,
  wait: 'Wait: the box says when.',
});

/** The field, and the measurement that was on the screen when its first digit was typed. */
function useHeldPoint({ watch, sender, job }: Pick<EntryProps, 'watch' | 'sender' | 'job'>) {
  const value = useNumberDraft('', sender.unit);
  const held = useRef<{ readonly id: number; readonly ohm: number } | undefined>(undefined);
  const [taken, setTaken] = useState('');
  const typed = (text: string): void => {
    const { measureId: id, resistanceOhm: ohm } = watch;
    if (text.trim() === '') held.current = undefined;
    else if (held.current === undefined && id !== undefined && ohm !== undefined) held.current = { id, ohm };
    value.setText(text);
  };
  const take = async (): Promise<void> => {
    const at = held.current;
    if (value.value === undefined || at === undefined) return;
    const { senderId } = sender;
    const point = { senderId, measureId: at.id, value: value.value };
    const outcome = await job.send({ kind: 'take-watched-point', ...point });
    held.current = undefined;
    if (outcome.kind === 'refused') return;
    setTaken(`Taken: ${value.text} ${shownUnit(sender.unit)} = ${shownOhm(at.ohm)}.`);
    value.setText('');
  };
  return { draft: { ...value, setText: typed }, held: held.current, taken, take };
}

/** One number, Enter, next. */
function ThermometerEntry({ watch, sender, job, tones, words, isFirst }: EntryProps): JSX.Element {
  const { draft, held, taken, take } = useHeldPoint({ watch, sender, job });
  const box = useRef<HTMLDivElement>(null);
  const isAsking = watch.propose === 'steady' || watch.propose === 'moved';
  useEffect(() => {
    if (isFirst) box.current?.querySelector('input')?.focus();
  }, []);
  useEffect(() => {
    if (isAsking) tones.settled();
  }, [isAsking]);
  return (
    <div class="stack" ref={box}>
      <p class={isAsking ? 'prompt prompt-now' : 'prompt'} role="status">
        {watch.status === 'paused'
          ? `Paused: ${watch.reason ?? 'by hand'}.`
          : watch.trouble === undefined
            ? promptsOf(words)[watch.propose ?? 'wait']
            : 'Connect the sender, and nothing else, to the box.'}
      </p>
      <div class="row row-end">
        <NumberField
          label={words.label}
          unit={shownUnit(sender.unit)}
          draft={draft}
          onEnter={() => void take()}
        />
        <button
          type="button"
          class="button button-main"
          disabled={draft.value === undefined || held === undefined}
          onClick={() => void take()}
        >
          {held === undefined ? 'Take it' : `Take it with ${shownOhm(held.ohm)}`}
        </button>
      </div>
      <p class="hint" role="status">
        {taken === '' ? 'The resistance is held at the first digit you type. Enter takes the point.' : taken}
      </p>
    </div>
  );
}

type ActionProps = {
  readonly watch: SenderWatchLive;
  readonly send: (command: JobCommand) => void;
  readonly go: () => void;
  /** Number of the event that brought the newest point of this sender. */
  readonly last: number | undefined;
};

function WatchActions({ watch, last, send, go }: ActionProps): JSX.Element {
  return (
    <div class="row">
      {watch.status === 'paused' ? (
        <button type="button" class="button" onClick={go}>
          Go on
        </button>
      ) : (
        <button type="button" class="button" onClick={() => send({ kind: 'pause-watch' })}>
          Pause
        </button>
      )}
      {last === undefined ? null : (
        <button
          type="button"
          class="button button-plain"
          onClick={() => send({ kind: 'undo', undoes: last })}
        >
          Undo the last point
        </button>
      )}
      <button type="button" class="button button-plain" onClick={() => send({ kind: 'end-watch' })}>
        End the log
      </button>
    </div>
  );
}
