import type { ComponentChildren, JSX } from 'preact';
import type { JobCommand } from '../../job/schema/commands';
import type { Confirmation } from '../../job/schema/safety';
import {
  confirmations,
  DEFERS,
  ENGINE_CONTROLLER,
  SENDER_QUESTION,
  stillToConfirm,
  type RiskyWork,
} from '../../job/state/confirmations';
import type { JobState } from '../../job/state/state';
import { later } from '../parts/later';
import { AnswerButton } from '../parts/one-press';
import type { Evidence, WithEvidence } from './safety-evidence';

const EvidenceForm = later(async () => (await import('./safety-evidence')).EvidenceForm);
const HeldOut = later(async () => (await import('./safety-evidence')).HeldOut);

const WITH_EVIDENCE: readonly Confirmation[] = [
  'engine-cold',
  'two-aboard',
  'dash-open',
] satisfies WithEvidence[];
const isGivenWithEvidence = (each: Confirmation): each is WithEvidence => WITH_EVIDENCE.includes(each);

type ConfirmProps = {
  readonly work: RiskyWork;
  readonly state: JobState;
  readonly send: (command: JobCommand) => void;
  readonly children: ComponentChildren;
};

/** Opens the step only when what can hurt has been said to be so; the journal keeps who said it, and when. */
export function ConfirmFirst({ work, state, send, children }: ConfirmProps): JSX.Element {
  const [confirmation] = stillToConfirm(work, state);
  if (confirmation === undefined) return <>{children}</>;
  return (
    <div key={confirmation} class="stack">
      <SayIt confirmation={confirmation} state={state} send={send} />
      <p class="hint">{DEFERS}</p>
    </div>
  );
}

/** One gate behind the other. */
export const Gates = (
  props: Omit<ConfirmProps, 'work'> & { readonly works: readonly RiskyWork[] },
): JSX.Element =>
  props.works.reduceRight<JSX.Element>(
    (inside, work) => (
      <ConfirmFirst work={work} state={props.state} send={props.send}>
        {inside}
      </ConfirmFirst>
    ),
    <>{props.children}</>,
  );

type SayProps = {
  readonly confirmation: Confirmation;
  readonly state: JobState;
  readonly send: ConfirmProps['send'];
};

/** A question with what answers it: on a phone both lie at the thumb, neither without the other. */
const Asked = (props: { readonly asks: string; readonly children: ComponentChildren }): JSX.Element => (
  <div class="asked">
    <p class="prompt">{props.asks}</p>
    {props.children}
  </div>
);

/** A tap where a tap is enough; else what was measured, or hands held out. A drawn vehicle has nothing that hurts. */
function SayIt(props: SayProps): JSX.Element {
  const { confirmation, state, send } = props;
  const { asks } = confirmations[confirmation];
  const say = (evidence: Evidence = {}): void => send({ kind: 'confirm-safety', confirmation, ...evidence });
  if (!state.simulated && confirmation === 'engine-runs')
    return (
      <Asked asks={asks}>
        <HeldOut onHeld={(heldMs) => say({ heldMs })} />
      </Asked>
    );
  if (!state.simulated && isGivenWithEvidence(confirmation))
    return (
      <>
        <p class="prompt">{asks}</p>
        <EvidenceForm {...props} confirmation={confirmation} say={say} />
      </>
    );
  return (
    <Asked asks={asks}>
      <AnswerButton class="button button-main" onClick={() => say()}>
        Yes
      </AnswerButton>
      {confirmation === 'gauge-sender' ? (
        <AnswerButton
          class="button"
          onClick={() => send({ kind: 'answer-check', question: SENDER_QUESTION, answer: ENGINE_CONTROLLER })}
        >
          It feeds the engine controller
        </AnswerButton>
      ) : null}
    </Asked>
  );
}
