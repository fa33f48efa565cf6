import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { JobCommand } from '../../../job/schema/commands';
import type { CurveFinding } from '../../../job/findings';
import type { Gauge } from '../../../job/schema/gauge';
import { stillToConfirm } from '../../../job/state/confirmations';
import type { JobState } from '../../../job/state/state';
import { useSignal } from '../../signal';
import { Choice } from '../../parts/choice';
import { Note } from '../../parts/note';
import { ConfirmFirst } from '../confirm-first';
import { MarksTable } from '../marks-table';
import type { StationProps } from '../station-props';
import { BoilingHelp } from './boiling-help';
import { CoolingLog } from './cooling-log';
import { NewSender } from './new-sender';
import { ImportTable } from './import-table';
import { SenderView } from './sender-view';
import { SimulatedTable } from './simulated-table';
import { TypedPoint } from './typed-point';
import { WorkingHeat } from './working-heat';

const WAYS = [
  { value: 'capture', words: 'Let the box measure' },
  { value: 'type', words: 'Type points' },
  { value: 'table', words: 'A table or a file' },
] as const;

/** The sender's own curve: measured in a bath, captured by the box, or taken from a data sheet. */
export function SenderStation({ app, job, state }: StationProps): JSX.Element {
  const findings = useSignal(job.findings.findings);
  const isAdding = useSignal(app.anotherSender);
  const [chosen, setChosen] = useState<string | undefined>(undefined);
  const [way, setWay] = useState<Way>('type');
  const senderId = chosen ?? state.senders.at(-1)?.senderId;
  const sender = state.senders.find((each) => each.senderId === senderId);
  const send = (command: JobCommand): void => void job.send(command);
  // The host names it, so that two screens cannot name two alike; this screen goes on with its own.
  const make = async (command: JobCommand): Promise<void> => {
    const outcome = await job.send(command);
    if (outcome.kind !== 'accepted') return;
    app.anotherSender.set(false);
    setChosen(job.state.get()?.senders.find((each) => each.n === outcome.upToN)?.senderId);
  };
  // While something must be said first, saying it is the one thing to do.
  const isAsked = way === 'type' && stillToConfirm('sender', state).length > 0;
  const isNew = sender === undefined || isAdding;
  const wanted = <WantedOhms gauge={state.gauge} curve={findings?.curve?.curve} isOpen={isNew} />;
  if (isNew) {
    return (
      <div class="columns">
        <div class="stack">
          <NewSender
            state={state}
            send={(command) => void make(command)}
            {...(isAdding ? { forTrim: true } : {})}
          />
          {sender === undefined ? null : (
            <AnotherSender title={sender.title} stay={() => app.anotherSender.set(false)} />
          )}
        </div>
        {wanted}
      </div>
    );
  }
  return (
    <div class="stack">
      <SenderPicker state={state} senderId={sender.senderId} onChoose={setChosen} />
      <div class="columns">
        <div class="stack">
          <PointsIn app={app} job={job} state={state} sender={sender} way={way} onWay={setWay} />
          {state.gauge.quantity === 'temperature' ? <BoilingHelp unit={sender.unit} /> : null}
          {state.gauge.quantity === 'temperature' && state.place === 'car' ? (
            <WorkingHeat key={sender.senderId} state={state} sender={sender} job={job} />
          ) : null}
        </div>
        <SenderView state={state} findings={findings} shown={sender.senderId} send={send} />
      </div>
      {wanted}
      <details>
        <summary>Add another sender to compare</summary>
        <NewSender state={state} send={(command) => void make(command)} isPlate={false} />
      </details>
      {state.senderPoints.length > 1 ? (
        <ToTrim isPlate={!isAsked && way !== 'capture'} go={() => app.opened.set('trim')} />
      ) : null}
    </div>
  );
}

const ToTrim = (props: { readonly isPlate: boolean; readonly go: () => void }): JSX.Element => (
  <div>
    <button type="button" class={props.isPlate ? 'button button-main' : 'button'} onClick={props.go}>
      On to the trim
    </button>
  </div>
);

type Way = (typeof WAYS)[number]['value'];
type PointsProps = StationProps & {
  readonly sender: JobState['senders'][number];
  readonly way: Way;
  readonly onWay: (way: Way) => void;
};

/** The three ways in which points of a sender come in. */
function PointsIn({ app, job, state, sender, way, onWay }: PointsProps): JSX.Element {
  const send = (command: JobCommand): void => void job.send(command);
  return (
    <>
      <Choice label={`Points of "${sender.title}"`} options={WAYS} chosen={way} onChoose={onWay} />
      {way === 'table' ? (
        <>
          <SimulatedTable app={app} job={job} state={state} sender={sender} />
          <ImportTable sender={sender} job={job} />
        </>
      ) : (
        <ConfirmFirst work="sender" state={state} send={send}>
          {way === 'type' ? (
            <TypedPoint key={sender.unit} sender={sender} state={state} send={job.send} />
          ) : (
            <CoolingLog key={sender.senderId} sender={sender} state={state} job={job} tones={app.tones} />
          )}
        </ConfirmFirst>
      )}
    </>
  );
}

/** The trim failed with the sender at hand: the next one begins empty. */
function AnotherSender(props: { readonly title: string; readonly stay: () => void }): JSX.Element {
  return (
    <Note kind="plain" word="Another sender">
      <p>It gets points of its own, and the trim is searched for it.</p>
      <div>
        <button type="button" class="button" onClick={props.stay}>
          Stay with {'\u201c'}
          {props.title}
          {'\u201d'}
        </button>
      </div>
    </Note>
  );
}

/** Known before there is any sender: what one is ordered, or looked for, by. */
function WantedOhms({ gauge, curve, isOpen }: WantedProps): JSX.Element | null {
  if (curve?.kind !== 'curve') return null;
  return (
    <details open={isOpen}>
      <summary>Which ohms this gauge wants at each mark</summary>
      <MarksTable
        gauge={gauge}
        curve={curve}
        caption="What a sender must have, to order one or look for one by"
      />
    </details>
  );
}

type WantedProps = {
  readonly gauge: Gauge;
  readonly curve: CurveFinding['curve'] | undefined;
  readonly isOpen: boolean;
};

type PickerProps = {
  readonly state: JobState;
  readonly senderId: string;
  readonly onChoose: (senderId: string) => void;
};

const SenderPicker = ({ state, senderId, onChoose }: PickerProps): JSX.Element | null =>
  state.senders.length < 2 ? null : (
    <Choice
      label="Which sender?"
      options={state.senders.map((each) => ({ value: each.senderId, words: each.title }))}
      chosen={senderId}
      onChoose={onChoose}
    />
  );
