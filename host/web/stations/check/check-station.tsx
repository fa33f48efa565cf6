import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { JobCommand } from '../../../job/commands';
import type { CheckFinding } from '../../../job/findings';
import type { JobState } from '../../../job/state';
import { checkPlan, isStepDoneSince, partsTheWire, stepId, type CheckStep } from '../../model/check-plan';
import { measuredWords } from '../../model/measured-words';
import { useSignal } from '../../model/signal';
import { plainWords } from '../../model/words';
import { useArrival } from '../../parts/arrival';
import { Note } from '../../parts/note';
import { ConfirmFirst } from '../confirm-first';
import type { StationProps } from '../station-body';
import { AsFoundStep } from './as-found-step';
import { CheckConclusion } from './check-conclusion';
import { MeasureStep } from './measure-step';

/** Where the check stands: what is still to be asked, and the finding if it stands. */
function useCheck({ desk, state }: Pick<StationProps, 'desk' | 'state'>) {
  const [skipped, setSkipped] = useState<readonly string[]>([]);
  /** Everything up to this event was before a fault was put right; 0: there was none. */
  const [sinceN, setSinceN] = useState(0);
  const events = useSignal(desk.events);
  const plan = checkPlan(state);
  const left = plan.filter(
    (step) => !isStepDoneSince(state, step, { events, sinceN }) && !skipped.includes(stepId(step)),
  );
  return {
    left,
    total: plan.length,
    concluded: (state.conclusion?.n ?? 0) > sinceN ? state.conclusion : undefined,
    skip: (step: CheckStep): void => setSkipped([...skipped, stepId(step)]),
    again: (): void => {
      setSkipped([]);
      setSinceN(state.lastN);
    },
  };
}

/** One question at a time: first what is wrong, then, only if it is the curve, the sweep. */
export function CheckStation({ app, desk, state }: StationProps): JSX.Element {
  const { left, total, concluded, skip, again } = useCheck({ desk, state });
  const isLive = useSignal(desk.live)?.link.state === 'live';
  const worth = useSignal(desk.findings.findings)?.check;
  const [now] = left;
  const send = (command: JobCommand): void => void desk.send(command);
  const isEnded = now === undefined || concluded !== undefined;
  const place = useArrival(isEnded ? 'end' : stepId(now));
  const body =
    now === undefined ? null : (
      <StepBody step={now} state={state} canMeasure={isLive} app={app} send={send} />
    );
  return (
    <div
      class="stack check"
      ref={place}
      tabIndex={-1}
      role="group"
      aria-label={isEnded ? 'What the check found' : stepWords(now)}
    >
      {concluded === undefined ? (
        <p class="soft figure">
          {now === undefined
            ? 'All questions answered or passed over.'
            : `Question ${total - left.length + 1} of ${total}`}
        </p>
      ) : null}
      {isEnded ? (
        <CheckConclusion
          state={state}
          concluded={concluded}
          worth={worth}
          send={send}
          again={again}
          goOn={() => app.opened.set('sweep')}
        />
      ) : (
        <div class="stack" key={stepId(now)}>
          {partsTheWire(now) ? (
            <ConfirmFirst work="sender-wire" state={state} send={send}>
              {body}
            </ConfirmFirst>
          ) : (
            body
          )}
          <div class="row">
            <button type="button" class="button button-plain" onClick={() => skip(now)}>
              Pass over this
            </button>
            <UndoCheck state={state} send={send} />
          </div>
        </div>
      )}
      {isEnded ? null : <Evidence state={state} worth={worth} />}
    </div>
  );
}

const stepWords = (step: CheckStep): string =>
  step.kind === 'as-found' ? 'As found' : step.kind === 'question' ? step.question.asks : step.asks;

type BodyProps = {
  readonly step: CheckStep;
  readonly state: JobState;
  readonly canMeasure: boolean;
  readonly app: StationProps['app'];
  readonly send: (command: JobCommand) => void;
};

function StepBody({ step, state, canMeasure, app, send }: BodyProps): JSX.Element {
  switch (step.kind) {
    case 'as-found':
      return <AsFoundStep state={state} entry={app.entry} send={send} />;
    case 'measure':
      return <MeasureStep step={step} canMeasure={canMeasure} send={send} />;
    case 'question':
      return (
        <fieldset class="stack">
          <legend class="prompt">{step.question.asks}</legend>
          <p class="hint">{step.question.why}</p>
          <div class="chips">
            {step.question.answers.map((answer) => (
              <button
                key={answer.value}
                type="button"
                class="button button-tall"
                onClick={() =>
                  send({ kind: 'answer-check', question: step.question.id, answer: answer.value })
                }
              >
                {answer.words}
              </button>
            ))}
          </div>
        </fieldset>
      );
  }
}

function UndoCheck({
  state,
  send,
}: {
  readonly state: JobState;
  readonly send: (command: JobCommand) => void;
}): JSX.Element | null {
  const count = state.asFound.length + state.measurements.length + Object.keys(state.answers).length;
  return count === 0 ? null : (
    <button type="button" class="button button-plain" onClick={() => send({ kind: 'undo' })}>
      Undo the last answer
    </button>
  );
}

/** What was measured and answered so far, beside the question. */
function Evidence(props: {
  readonly state: JobState;
  readonly worth: CheckFinding | undefined;
}): JSX.Element | null {
  const { state, worth } = props;
  if (state.measurements.length === 0) return null;
  return (
    <Note kind="plain" word="Measured">
      <ul>
        {state.measurements.map((each) => (
          <li key={each.n} class="figure">
            {plainWords(measuredWords(each, worth))}
          </li>
        ))}
        {worth?.lines.map((line) => (
          <li key={line}>{plainWords(line)}</li>
        ))}
      </ul>
    </Note>
  );
}
