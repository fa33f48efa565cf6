import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import { isDiagnosable } from '../../../job/check/diagnosis-of-job';
import { contradictions } from '../../../job/check/contradictions';
import { question } from '../../../job/check/not-asked';
import { sinceFault } from '../../../job/check/since-fault';
import type { JobCommand } from '../../../job/schema/commands';
import { stillToConfirm } from '../../../job/state/confirmations';
import { effectiveEvents } from '../../../job/state/effective';
import type { JobEvent } from '../../../job/schema/events';
import type { CheckFinding } from '../../../job/findings';
import type { JobState } from '../../../job/state/state';
import {
  checkPlan,
  hookUpOf,
  isStepDone,
  partsTheWire,
  shownFirst,
  stepId,
  type CheckStep,
} from './check-plan';
import { measuredWords } from '../../../words/measured';
import { useSignal } from '../../signal';
import { useBringIntoView } from '../../parts/bring-into-view';
import { Note } from '../../parts/note';
import { AnswerButton, OnePress } from '../../parts/one-press';
import { later } from '../../parts/later';
import { ConfirmFirst } from '../confirm-first';
import type { StationProps } from '../station-props';
import { AsFoundStep } from './as-found-step';
import { BoxAsLoad } from './box-as-load';
import { CheckConclusion } from './check-conclusion';
import { MeasureStep } from './measure-step';
import { ShownStep } from './shown-step';

const LeadsFold = later(async () => (await import('../leads-fold')).LeadsFold);

/** Where the check stands: what is still to be asked, and the finding if it stands. */
function useCheck({ job, state }: Pick<StationProps, 'job' | 'state'>) {
  const [skipped, setSkipped] = useState<readonly string[]>([]);
  /** A fault was put right: its finding, by its event, is asked anew. */
  const [againN, setAgainN] = useState(0);
  const events = useSignal(job.events);
  const facts = sinceFault(state, events);
  const plan = checkPlan(state);
  const left = plan.filter((step) => !isStepDone(facts, step) && !skipped.includes(stepId(step)));
  const { conclusion } = state;
  return {
    facts,
    events,
    left,
    total: plan.length,
    concluded: (conclusion?.n ?? 0) > againN ? conclusion : undefined,
    skip: (step: CheckStep): void => setSkipped([...skipped, stepId(step)]),
    again: (): void => {
      setSkipped([]);
      setAgainN(state.lastN);
    },
  };
}

const DiagnosisStation = later<StationProps>(
  async () => (await import('./diagnosis/diagnosis-station')).DiagnosisStation,
);

/** Where the circuit is known its next most telling test is asked; else the list. */
export const CheckStation = (props: StationProps): JSX.Element =>
  isDiagnosable(props.state) ? <DiagnosisStation {...props} /> : <CheckList {...props} />;

/** One question at a time: first what is wrong, then, only if it is the curve, the sweep. */
function CheckList({ app, job, state }: StationProps): JSX.Element {
  const { facts, events, left, total, concluded, skip, again } = useCheck({
    job,
    state,
  });
  const worth = useSignal(job.findings.findings)?.check;
  const [now] = left;
  const send = (command: JobCommand): void => void job.send(command);
  const isEnded = now === undefined || concluded !== undefined;
  const asked = isEnded ? `end ${concluded?.n ?? ''}` : askedNow(facts, now);
  const place = useBringIntoView(asked);
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
            ? 'All questions answered or skipped.'
            : `Question ${total - left.length + 1} of ${total}`}
        </p>
      ) : null}
      <OnePress question={asked}>
        {isEnded ? (
          <CheckConclusion
            facts={facts}
            concluded={concluded}
            worth={worth}
            send={send}
            again={again}
            goOn={() => app.opened.set('sweep')}
          />
        ) : (
          <div class="stack" key={asked}>
            <StepBody step={now} facts={facts} job={job} app={app} send={send} />
            <div class="row">
              <AnswerButton class="button button-plain" onClick={() => skip(now)}>
                Skip
              </AnswerButton>
              <UndoCheck events={events} screen={job.screen} send={send} />
            </div>
          </div>
        )}
      </OnePress>
      {isEnded ? null : <Evidence state={facts} worth={worth} />}
    </div>
  );
}

/** Names what is on the screen: what must be said first, the question, and what was measured are three. */
const askedNow = (facts: JobState, step: CheckStep): string => {
  const waits = partsTheWire(step) ? stillToConfirm('sender-wire', facts).length : 0;
  return `${stepId(step)} ${waits} ${shownFirst(facts, step)?.n ?? ''}`;
};

const stepWords = (step: CheckStep): string =>
  step.kind === 'as-found' ? 'As found' : step.kind === 'question' ? step.question.asks : step.asks;

type BodyProps = {
  readonly step: CheckStep;
  readonly facts: JobState;
  readonly app: StationProps['app'];
  readonly job: StationProps['job'];
  readonly send: (command: JobCommand) => void;
};

function StepBody(props: BodyProps): JSX.Element {
  const { step, facts, job, send } = props;
  const worth = useSignal(job.findings.findings)?.check;
  const measurement = shownFirst(facts, step);
  if (measurement !== undefined) {
    const against = contradictions(facts, worth).filter(({ again }) =>
      again.some((each) => each.kind === 'measurement' && each.measurement.n === measurement.n),
    );
    return <ShownStep measurement={measurement} state={facts} worth={worth} against={against} send={send} />;
  }
  const body = <AskedStep {...props} />;
  if (!partsTheWire(step)) return body;
  const hookUp = hookUpOf(facts, step);
  return (
    <ConfirmFirst work="sender-wire" state={facts} send={send}>
      {body}
      {hookUp === undefined ? null : <LeadsFold hookUp={hookUp} isOpen={!facts.simulated} />}
    </ConfirmFirst>
  );
}

function AskedStep({ step, facts, app, job, send }: BodyProps): JSX.Element {
  const canMeasure = useSignal(job.live)?.link.state === 'live';
  switch (step.kind) {
    case 'as-found':
      return <AsFoundStep state={facts} entry={app.entry} send={send} />;
    case 'measure':
      return <MeasureStep step={step} canMeasure={canMeasure} isSimulated={facts.simulated} job={job} />;
    case 'question':
      return (
        <fieldset class="stack">
          <legend class="prompt">{step.question.asks}</legend>
          <p class="hint">{step.question.why}</p>
          {canMeasure && step.question.id === question.knownLoad ? (
            <BoxAsLoad state={facts} send={send} />
          ) : null}
          <div class="chips">
            {step.question.answers.map((answer) => (
              <AnswerButton
                key={answer.value}
                class="button button-tall"
                onClick={() =>
                  send({
                    kind: 'answer-check',
                    question: step.question.id,
                    answer: answer.value,
                  })
                }
              >
                {answer.words}
              </AnswerButton>
            ))}
          </div>
        </fieldset>
      );
  }
}

/** Takes back the newest answer of this screen; what somebody else said stays theirs. */
function UndoCheck(props: {
  readonly events: readonly JobEvent[];
  readonly screen: string;
  readonly send: (command: JobCommand) => void;
}): JSX.Element | null {
  const own = effectiveEvents(props.events)
    .filter((each) => isSaid(each) && each.by === props.screen)
    .at(-1);
  return own === undefined ? null : (
    <AnswerButton class="button button-plain" onClick={() => props.send({ kind: 'undo', undoes: own.n })}>
      Undo the last answer
    </AnswerButton>
  );
}

const SAID = ['as-found', 'check-answered', 'check-measured'] as const;
const isSaid = (event: JobEvent): boolean => SAID.some((kind) => kind === event.kind);

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
            {measuredWords(each, worth)}
          </li>
        ))}
        {worth?.lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </Note>
  );
}
