import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { JobCommand } from '../../../job/commands';
import type { JobState } from '../../../job/state';
import { useSignal } from '../../model/signal';
import { Choice } from '../../parts/choice';
import { ConfirmFirst } from '../confirm-first';
import type { StationProps } from '../station-body';
import { BoilingHelp } from './boiling-help';
import { CoolingLog } from './cooling-log';
import { NewSender } from './new-sender';
import { ImportTable } from './import-table';
import { SenderView } from './sender-view';
import { SimulatedTable } from './simulated-table';
import { TypedPoint } from './typed-point';

const WAYS = [
  { value: 'capture', words: 'Let the box measure' },
  { value: 'type', words: 'Type points' },
  { value: 'table', words: 'A table or a file' },
] as const;

/** The sender's own curve: measured in a bath, captured by the box, or taken from a data sheet. */
export function SenderStation({ app, desk, state }: StationProps): JSX.Element {
  const findings = useSignal(desk.findings.findings);
  const [chosen, setChosen] = useState<string | undefined>(undefined);
  const [way, setWay] = useState<(typeof WAYS)[number]['value']>('type');
  const senderId = chosen ?? state.senders.at(-1)?.senderId;
  const sender = state.senders.find((each) => each.senderId === senderId);
  const send = (command: JobCommand): void => void desk.send(command);
  // The desk names it, so that two screens cannot name two alike; this screen goes on with its own.
  const make = async (command: JobCommand): Promise<void> => {
    const outcome = await desk.send(command);
    if (outcome.kind !== 'accepted') return;
    setChosen(desk.state.get()?.senders.find((each) => each.n === outcome.upToN)?.senderId);
  };
  if (sender === undefined) {
    return <NewSender state={state} send={(command) => void make(command)} />;
  }
  return (
    <div class="stack">
      <SenderPicker state={state} senderId={sender.senderId} onChoose={setChosen} make={make} />
      <div class="columns">
        <div class="stack">
          <Choice label={`Points of "${sender.title}"`} options={WAYS} chosen={way} onChoose={setWay} />
          {way === 'table' ? (
            <>
              <SimulatedTable app={app} desk={desk} state={state} sender={sender} />
              <ImportTable sender={sender} desk={desk} />
            </>
          ) : (
            <ConfirmFirst work="sender" state={state} send={send}>
              {way === 'type' ? (
                <TypedPoint key={sender.unit} sender={sender} send={send} />
              ) : (
                <CoolingLog
                  key={sender.senderId}
                  sender={sender}
                  state={state}
                  desk={desk}
                  tones={app.tones}
                />
              )}
            </ConfirmFirst>
          )}
          {state.gauge.quantity === 'temperature' ? <BoilingHelp unit={sender.unit} /> : null}
        </div>
        <SenderView state={state} findings={findings?.senders ?? []} shown={sender.senderId} send={send} />
      </div>
      {state.senderPoints.length > 1 ? (
        <div>
          <button
            type="button"
            class={way === 'capture' ? 'button' : 'button button-main'}
            onClick={() => app.opened.set('trim')}
          >
            On to the trim
          </button>
        </div>
      ) : null}
    </div>
  );
}

type PickerProps = {
  readonly state: JobState;
  readonly senderId: string;
  readonly onChoose: (senderId: string) => void;
  readonly make: (command: JobCommand) => Promise<void>;
};

function SenderPicker({ state, senderId, onChoose, make }: PickerProps): JSX.Element {
  return (
    <div class="stack">
      {state.senders.length > 1 ? (
        <Choice
          label="Which sender?"
          options={state.senders.map((each) => ({ value: each.senderId, words: each.title }))}
          chosen={senderId}
          onChoose={onChoose}
        />
      ) : null}
      <details>
        <summary>Add another sender to compare</summary>
        <NewSender state={state} send={(command) => void make(command)} />
      </details>
    </div>
  );
}
