import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { JobCommand } from '../../../job/schema/commands';
import type { CurveFinding } from '../../../job/findings';
import type { Gauge } from '../../../job/schema/gauge';
import { stillToConfirm } from '../../../job/state/confirmations';
import type { JobState } from '../../../job/state/state';
import { useSignal } from '../../signal';
import { Choice } from '../../parts/choice';
import { Fold } from '../../parts/fold';
import { Note } from '../../parts/note';
import { ConfirmFirst } from '../confirm-first';
import { MarksTable } from '../marks-table';
import type { StationProps } from '../station-props';
import { BoilingHelp } from './boiling-help';
import { CoolingLog } from './cooling-log';
import { NewSender } from './new-sender';
import { ImportTable } from './import-table';
import { SenderView } from './sender-view';
import { SimulatedTable, useSimulatedTable } from './simulated-table';
import { TypedPoint } from './typed-point';
import { WorkingHeat } from './working-heat';
import { plateIf } from '../../parts/plate';

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
  const senderId = chosen ?? state.senders.at(-1)?.senderId;
  const sender = state.senders.find((each) => each.senderId === senderId);
  // The host names it, so that two screens cannot name two alike; this screen goes on with its own.
  const make = async (command: JobCommand): Promise<void> => {
    const outcome = await job.send(command);
    if (outcome.kind !== 'accepted') return;
    app.anotherSender.set(false);
    setChosen(job.state.get()?.senders.find((each) => each.n === outcome.upToN)?.senderId);
  };
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
      <SenderAtHand key={sender.senderId} app={app} job={job} state={state} sender={sender} />
      <div class="folds">
        {state.gauge.quantity === 'temperature' ? <BoilingHelp unit={sender.unit} /> : null}
        {state.gauge.quantity === 'temperature' && state.place === 'car' ? (
          <WorkingHeat key={sender.senderId} state={state} sender={sender} job={job} />
        ) : null}
        {wanted}
        <Fold line="Add another sender" says="to compare">
          <NewSender state={state} send={(command) => void make(command)} isPlate={false} />
        </Fold>
      </div>
    </div>
  );
}

type Way = (typeof WAYS)[number]['value'];
type HandProps = StationProps & { readonly sender: JobState['senders'][number] };

const FEWEST_POINTS = 2;

/**
 * While it gets its first points these come first; once it has a curve, what it gives comes first, and further points are
 * one press away. What was open under the hands stays open.
 */
function SenderAtHand({ app, job, state, sender }: HandProps): JSX.Element {
  const findings = useSignal(job.findings.findings);
  const count = state.senderPoints.filter((point) => point.senderId === sender.senderId).length;
  const [isFresh] = useState(count < FEWEST_POINTS);
  const isWatched = useSignal(job.live)?.watch?.senderId === sender.senderId;
  const [isOpened, setOpen] = useState(isFresh);
  const isOpen = isOpened || isWatched;
  const [chosenWay, setWay] = useState<Way | undefined>(undefined);
  const way = chosenWay ?? (isWatched ? 'capture' : state.simulated ? 'table' : 'type');
  const [isTable, setTable] = useState(false);
  // What must be said first is the one thing to do; so is what the box asks for, and a table that waits to be added.
  const isAsked = way === 'type' && stillToConfirm('sender', state).length > 0;
  const isWaiting = way === 'table' && isTable;
  const isPlateHere = isOpen && (isAsked || isWaiting || way === 'capture' || count < FEWEST_POINTS);
  const points = isOpen ? (
    <div class="stack">
      <PointsIn
        {...{ app, job, state, sender, way, isTable }}
        onWay={setWay}
        onTable={setTable}
        isPlate={count < FEWEST_POINTS}
      />
    </div>
  ) : (
    <div>
      <button type="button" class="button" onClick={() => setOpen(true)}>
        More points
      </button>
    </div>
  );
  return (
    <div class={isOpen ? 'columns' : 'stack'}>
      {isFresh ? points : null}
      <SenderView
        state={state}
        findings={findings}
        shown={sender.senderId}
        send={(command) => void job.send(command)}
        actions={
          state.senderPoints.length < FEWEST_POINTS ? null : (
            <div>
              <button type="button" class={plateIf(!isPlateHere)} onClick={() => app.opened.set('trim')}>
                On to the trim
              </button>
            </div>
          )
        }
      />
      {isFresh ? null : points}
    </div>
  );
}

type PointsProps = HandProps & {
  readonly way: Way;
  readonly onWay: (way: Way) => void;
  /** A table waits to be added. */
  readonly isTable: boolean;
  readonly onTable: (isTable: boolean) => void;
  /** Nothing comes before its points. */
  readonly isPlate: boolean;
};

/** The three ways in which points of a sender come in. */
function PointsIn(props: PointsProps): JSX.Element {
  const { app, job, state, sender, way, onWay, isTable, onTable, isPlate } = props;
  const send = (command: JobCommand): void => void job.send(command);
  const hasTable = useSimulatedTable(app, state) !== undefined;
  return (
    <>
      <Choice label={`Points of "${sender.title}"`} options={WAYS} chosen={way} onChoose={onWay} />
      {way === 'table' ? (
        <>
          <SimulatedTable app={app} job={job} state={state} sender={sender} isPlate={isPlate && !isTable} />
          <ImportTable
            sender={sender}
            job={job}
            isPlate={isTable || (isPlate && !hasTable)}
            onTyping={onTable}
          />
        </>
      ) : (
        <ConfirmFirst work="sender" state={state} send={send}>
          {way === 'type' ? (
            <TypedPoint key={sender.unit} sender={sender} state={state} send={job.send} isPlate={isPlate} />
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
    <Fold line="Which ohms this gauge wants at each mark" says="to order a sender by" open={isOpen}>
      <MarksTable
        gauge={gauge}
        curve={curve}
        caption="What a sender must have, to order one or look for one by"
      />
    </Fold>
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
