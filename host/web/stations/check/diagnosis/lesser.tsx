import type { JSX } from 'preact';
import { BY_LIST, sinceRepair, skippedOfJob, WAY_QUESTION } from '../../../../job/check/diagnosis-of-job';
import type { TestName } from '../../../../core/diagnosis/names';
import type { AskedTest, DiagnosisFinding } from '../../../../job/findings';
import type { JobConnection } from '../../../connection/job-connection';
import { ownNewest } from '../../../../job/state/undo';
import type { JobState } from '../../../../job/state/state';
import { counted } from '../../../../words/sentence';
import { Fold } from '../../../parts/fold';
import { AnswerButton } from '../../../parts/one-press';
import { useSignal } from '../../../signal';

/** Whether a test was read, or said to be impossible, since the last repair. */
export const hasSaid = (state: JobState, test: TestName): boolean =>
  skippedOfJob(state).includes(test) ||
  (test === 'as-found'
    ? sinceRepair(state, state.asFound).length > 0
    : sinceRepair(state, state.tested).some((each) => each.test === test));

type LesserProps = {
  readonly job: JobConnection;
  /** The test that is asked, and may be left out. */
  readonly test: TestName | undefined;
  readonly finding: DiagnosisFinding | undefined;
  readonly take: (test: AskedTest) => void;
};

/** What one may do instead of answering: another test, or taking back the last answer. */
export function Lesser({ job, test, finding, take }: LesserProps): JSX.Element {
  const others = finding?.others ?? [];
  return (
    <>
      <div class="row">
        {test === undefined ? null : (
          <AnswerButton
            class="button button-plain"
            onClick={() => void job.send({ kind: 'skip-test', test })}
          >
            I cannot do this
          </AnswerButton>
        )}
        <UndoAnswer job={job} />
        <AnswerButton
          class="button button-plain"
          onClick={() => void job.send({ kind: 'answer-check', question: WAY_QUESTION, answer: BY_LIST })}
        >
          Ask me the whole list instead
        </AnswerButton>
      </div>
      {others.length === 0 ? null : (
        <Fold line="Take another test" says={`${counted(others.length, 'test')} can be done now`}>
          <ul class="tests">
            {others.map((each) => (
              <li key={each.test}>
                <AnswerButton class="button button-plain" onClick={() => take(each)}>
                  {each.name}
                </AnswerButton>
                <span class="soft">{minutesWords(each.minutes)}</span>
              </li>
            ))}
          </ul>
        </Fold>
      )}
    </>
  );
}

export const minutesWords = (minutes: number): string => `about ${Math.max(1, Math.round(minutes))} min`;

/** Takes back the newest answer of this screen; what somebody else said stays theirs. */
function UndoAnswer({ job }: { readonly job: JobConnection }): JSX.Element | null {
  const events = useSignal(job.events);
  const own = ownNewest(events, job.screen, 'check');
  return own === undefined ? null : (
    <AnswerButton class="button button-plain" onClick={() => void job.send({ kind: 'undo', undoes: own.n })}>
      Undo the last answer
    </AnswerButton>
  );
}
