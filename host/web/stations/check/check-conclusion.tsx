import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import { contradictions, type Contradiction } from '../../../job/check/contradictions';
import type { JobCommand } from '../../../job/schema/commands';
import { isFaultFound } from '../../../job/check/since-fault';
import type { CheckFinding } from '../../../job/findings';
import type { JobState } from '../../../job/state/state';
import { suggestFinding, type Finding } from './check-finding';
import { measuredWords } from '../../../words/measured';
import { Pick } from '../../parts/choice';
import { Note } from '../../parts/note';
import { AnswerButton } from '../../parts/one-press';
import { Verdict } from '../../parts/verdict';
import { asSentence } from '../../../words/sentence';
import { plateIf } from '../../parts/plate';

const FINDINGS: readonly { readonly value: Finding; readonly words: string }[] = [
  { value: 'nothing-found', words: 'Nothing found so far' },
  { value: 'sound', words: 'Sound: everything was asked' },
  { value: 'ground-fault', words: 'Ground fault' },
  { value: 'supply-fault', words: 'Supply fault' },
  { value: 'stabiliser-fault', words: 'Stabiliser fault' },
  { value: 'wire-fault', words: 'Wire fault' },
  { value: 'sender-suspect', words: 'Sender suspect' },
  { value: 'gauge-suspect', words: 'Gauge suspect' },
  { value: 'undetermined', words: 'Cause not found' },
];

const findingWords = (finding: Finding): string =>
  FINDINGS.find((each) => each.value === finding)?.words ?? 'Cause not found';

type ConclusionProps = {
  readonly facts: JobState;
  /** What the measurements are worth in dial units; not there yet while it is computed. */
  readonly worth: CheckFinding | undefined;
  readonly send: (command: JobCommand) => void;
  /** The finding that stands; left out while the check is going on, or going on anew. */
  readonly concluded: JobState['conclusion'];
  readonly again: () => void;
  readonly goOn: () => void;
};

/** What was found and why. The page proposes, the person decides; "sound" only when everything was asked. */
export function CheckConclusion(props: ConclusionProps): JSX.Element {
  const { facts, worth, concluded, send } = props;
  const proposed = suggestFinding(facts, worth);
  const disagreements = contradictions(facts, worth);
  const [chosen, setChosen] = useState<Finding | undefined>(undefined);
  const finding = chosen ?? proposed.finding;
  if (concluded !== undefined) return <Concluded {...props} conclusion={concluded} />;
  const canBeSound = proposed.notAsked.length === 0 && disagreements.length === 0;
  const conclude = (): void => {
    const sentence = finding === proposed.finding ? proposed.sentence : findingWords(finding);
    send({ kind: 'conclude-check', finding, sentence, evidence: [...proposed.evidence] });
  };
  return (
    <div class="stack">
      <p class="soft">The answers point to</p>
      <FindingSentence finding={proposed.finding} sentence={proposed.sentence} />
      <Disagreements disagreements={disagreements} send={send} />
      <NotAsked words={proposed.notAsked} />
      <Pick
        label="Your finding"
        options={FINDINGS.filter(({ value }) => value !== 'sound' || canBeSound)}
        chosen={finding}
        onChoose={setChosen}
      />
      <div>
        <AnswerButton class="button button-main" onClick={conclude}>
          Save the finding
        </AnswerButton>
      </div>
      <h3>The evidence</h3>
      <EvidenceList evidence={proposed.evidence} />
    </div>
  );
}

/** Each is settled by measuring one of its sides again; nothing is concluded over it before. */
function Disagreements(props: {
  readonly disagreements: readonly Contradiction[];
  readonly send: (command: JobCommand) => void;
}): JSX.Element {
  const measurements = props.disagreements.flatMap(({ again }) =>
    again.flatMap((each) => (each.kind === 'measurement' ? [each.measurement] : [])),
  );
  const once = measurements.filter((each, index) => measurements.indexOf(each) === index);
  return (
    <>
      {props.disagreements.slice(1).map(({ id, says }) => (
        <Note key={id} kind="wrong" word="This does not fit">
          <p>{asSentence(says)}</p>
        </Note>
      ))}
      {once.length === 0 ? null : (
        <div class="row">
          {once.map((each) => (
            <AnswerButton
              key={each.n}
              class="button"
              onClick={() => props.send({ kind: 'undo', undoes: each.n })}
            >
              Measure again: {measuredWords(each)}
            </AnswerButton>
          ))}
        </div>
      )}
    </>
  );
}

const NotAsked = ({ words }: { readonly words: readonly string[] }): JSX.Element | null =>
  words.length === 0 ? null : (
    <>
      <h3>Not asked</h3>
      <ul>
        {words.map((each) => (
          <li key={each}>{each}</li>
        ))}
      </ul>
    </>
  );

type ConcludedProps = Pick<ConclusionProps, 'again' | 'goOn'> & {
  readonly conclusion: NonNullable<JobState['conclusion']>;
};

/** A fault is put right before anything else: only then is the sweep worth its minutes. */
function Concluded({ conclusion, again, goOn }: ConcludedProps): JSX.Element {
  const isFault = isFaultFound(conclusion.finding);
  return (
    <div class="stack">
      <FindingSentence finding={conclusion.finding} sentence={conclusion.sentence} />
      <div class="row">
        {isFault ? (
          <AnswerButton class="button button-main" onClick={again}>
            It is put right: check again
          </AnswerButton>
        ) : null}
        <AnswerButton class={plateIf(!isFault)} onClick={goOn}>
          {isFault ? 'Sweep all the same' : 'On to the sweep'}
        </AnswerButton>
      </div>
      <EvidenceList evidence={conclusion.evidence} />
      <NotAsked words={conclusion.notAsked ?? []} />
    </div>
  );
}

/** The sentence the check ends in, and its sign: sound, a fault, or not to be told. */
const FindingSentence = (props: { readonly finding: Finding; readonly sentence: string }): JSX.Element => (
  <>
    <p class="lead">{props.sentence}</p>
    <Verdict kind={signOf(props.finding)}>{findingWords(props.finding)}</Verdict>
  </>
);

const signOf = (finding: Finding): 'good' | 'bad' | 'doubt' =>
  finding === 'sound' ? 'good' : isFaultFound(finding) ? 'bad' : 'doubt';

const EvidenceList = ({ evidence }: { readonly evidence: readonly string[] }): JSX.Element | null =>
  evidence.length === 0 ? null : (
    <ul>
      {evidence.map((line) => (
        <li key={line}>{line}</li>
      ))}
    </ul>
  );
