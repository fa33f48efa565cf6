import type { JSX } from 'preact';
import { isFaultFound } from '../../../../job/check/since-fault';
import type { DiagnosisFinding } from '../../../../job/findings';
import type { JobCommand } from '../../../../job/schema/commands';
import type { JobState } from '../../../../job/state/state';
import { remedyWords } from '../../../../words/diagnosis-remedies';
import { AnswerButton } from '../../../parts/one-press';
import { plateIf } from '../../../parts/plate';
import { Verdict } from '../../../parts/verdict';

type Send = (command: JobCommand) => void;

/** Nothing more is worth asking: what it came to, said by a person before it stands. */
export function EndStep({
  finding,
  send,
}: {
  readonly finding: DiagnosisFinding;
  readonly send: Send;
}): JSX.Element {
  const { verdict, sentence, evidence, named, way, seed, notMeasured, unproved } = finding;
  const conclude = (): void =>
    send({
      kind: 'conclude-check',
      ...{ finding: finding.finding, sentence, evidence: [...evidence] },
      diagnosed: {
        ...{ verdict, way, seed },
        causes: named.map(({ cause }) => cause),
        notMeasured: notMeasured.map(({ test }) => test),
      },
    });
  return (
    <div class="stack">
      <p class="lead">{sentence}</p>
      <Verdict kind={signOf(finding.finding)}>{SIGN_WORDS[signOf(finding.finding)]}</Verdict>
      {named.map(({ cause, remedy }) => (
        <p key={cause}>{remedy}</p>
      ))}
      {verdict === 'is' || unproved.length === 0 ? null : (
        <p class="hint">What would prove it: {unproved.join('; ')}.</p>
      )}
      <NotMeasured names={notMeasured.map(({ name }) => name)} />
      <div>
        <AnswerButton class="button button-main" onClick={conclude}>
          {verdict === 'is' ? 'Save the finding' : 'Save it as not found'}
        </AnswerButton>
      </div>
    </div>
  );
}

const SIGN_WORDS = {
  good: 'Sound',
  bad: 'Found, and proved',
  doubt: 'Not found',
} as const;

const signOf = (finding: DiagnosisFinding['finding']): 'good' | 'bad' | 'doubt' =>
  finding === 'sound' ? 'good' : finding === 'undetermined' || finding === 'nothing-found' ? 'doubt' : 'bad';

const NotMeasured = ({ names }: { readonly names: readonly string[] }): JSX.Element | null =>
  names.length === 0 ? null : <p class="hint">Not looked at: {names.join('; ')}.</p>;

type FoundProps = {
  readonly state: JobState;
  readonly send: Send;
  readonly goOn: () => void;
};

/** The finding that stands: what is mended is said, and then the check runs again. */
export function Found({ state, send, goOn }: FoundProps): JSX.Element | null {
  const { conclusion } = state;
  if (conclusion === undefined) return null;
  const causes = conclusion.diagnosed?.verdict === 'is' ? conclusion.diagnosed.causes : [];
  const isFault = isFaultFound(conclusion.finding);
  const isSound = conclusion.finding === 'sound';
  return (
    <div class="stack">
      <p class="lead">{conclusion.sentence}</p>
      <Verdict kind={signOf(conclusion.finding)}>{SIGN_WORDS[signOf(conclusion.finding)]}</Verdict>
      {causes.map((cause) => (
        <p key={cause}>{remedyWords(cause)}</p>
      ))}
      <div class="row">
        {isSound ? null : (
          <AnswerButton
            class={plateIf(isFault)}
            onClick={() => send({ kind: 'say-repaired', what: conclusion.sentence })}
          >
            {causes.length === 0 ? 'Check again from the start' : 'It is mended: check again'}
          </AnswerButton>
        )}
        <AnswerButton class={plateIf(!isFault)} onClick={goOn}>
          {isFault ? 'Sweep all the same' : 'On to the sweep'}
        </AnswerButton>
      </div>
      {conclusion.evidence.length === 0 ? null : (
        <ul>
          {conclusion.evidence.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      )}
      <NotMeasured names={conclusion.notAsked ?? []} />
    </div>
  );
}
