import type { JSX } from 'preact';
import type { JobCommand } from '../../../job/schema/commands';
import type { JobState } from '../../../job/state/state';
import { senderInVehicle } from '../../../job/state/views';
import { fittedWords, networkWords } from '../../../words/fitted';
import { plateIf } from '../../parts/plate';

type FittedProps = {
  readonly state: JobState;
  readonly send: (command: JobCommand) => void;
  readonly toTrim: () => void;
};

/** Before anything proves the vehicle as it was left, somebody says what it was left with. */
export const FittedQuestion = (props: FittedProps & { readonly asFoundFirst: () => void }): JSX.Element => (
  <div class="stack">
    <p class="prompt">What is fitted now?</p>
    <FittedButtons {...props} plate />
    <div>
      <button type="button" class="button button-plain" onClick={props.asFoundFirst}>
        First a pair as found, before anything is fitted
      </button>
    </div>
  </div>
);

/** What was said, or is still to be said, beside a pair. */
export const FittedFold = (props: FittedProps): JSX.Element => {
  const { fitted } = props.state;
  return (
    <details>
      <summary>
        {fitted === undefined
          ? 'Nobody said yet what is fitted'
          : `Fitted: ${fittedWords(props.state)} (said by ${fitted.by})`}
      </summary>
      <div class="stack">
        {fitted === undefined ? null : (
          <p class="hint">Saying it anew begins the proof anew: pairs taken before then prove nothing.</p>
        )}
        <FittedButtons {...props} />
      </div>
    </details>
  );
};

function FittedButtons(props: FittedProps & { readonly plate?: true }): JSX.Element {
  const { state, send, toTrim } = props;
  const { trimChosen, trimChosenN } = state;
  const isNetwork = trimChosen !== undefined && trimChosen.parts.length > 0 && trimChosenN !== undefined;
  const sender = state.senders.find((each) => each.senderId === senderInVehicle(state));
  const first = plateIf(props.plate === true);
  return (
    <div class="stack">
      <p>
        {isNetwork ? `Chosen in Trim: ${networkWords(trimChosen)}.` : 'No network was chosen in this job.'}{' '}
        {sender === undefined ? '' : `The sender: \u201c${sender.title}\u201d.`}
      </p>
      <div class="row">
        {isNetwork ? (
          <button
            type="button"
            class={first}
            onClick={() => send({ kind: 'say-fitted', fitted: 'network', chosenN: trimChosenN })}
          >
            This network is fitted
          </button>
        ) : null}
        <button
          type="button"
          class={isNetwork ? 'button' : first}
          onClick={() => send({ kind: 'say-fitted', fitted: 'nothing' })}
        >
          Nothing is fitted
        </button>
        {isNetwork ? null : (
          <button type="button" class="button" onClick={toTrim}>
            To the trim
          </button>
        )}
      </div>
    </div>
  );
}
