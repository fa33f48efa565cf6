import type { ComponentChildren, JSX } from 'preact';
import type { JobCommand } from '../../job/schema/commands';
import { confirmations, DEFERS, stillToConfirm, type RiskyWork } from '../../job/state/confirmations';
import type { JobState } from '../../job/state/state';
import { AnswerButton } from '../parts/one-press';

type ConfirmProps = {
  readonly work: RiskyWork;
  readonly state: JobState;
  readonly send: (command: JobCommand) => void;
  readonly children: ComponentChildren;
};

/** Opens the step only when what can hurt has been said to be so; the journal keeps who said it, and when. */
export function ConfirmFirst({ work, state, send, children }: ConfirmProps): JSX.Element {
  const asked = stillToConfirm(work, state);
  if (asked.length === 0) return <>{children}</>;
  return (
    <div class="stack">
      {asked.map((confirmation) => (
        <div key={confirmation} class="stack">
          <p class="prompt">{confirmations[confirmation].asks}</p>
          <div>
            <AnswerButton
              class="button button-main"
              onClick={() => send({ kind: 'confirm-safety', confirmation })}
            >
              Yes
            </AnswerButton>
          </div>
        </div>
      ))}
      <p class="hint">{DEFERS}</p>
    </div>
  );
}
