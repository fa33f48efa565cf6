import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { JobCommand } from '../../../job/commands';
import { isFaultFound } from '../../../job/headlines';
import type { CheckFinding } from '../../../job/findings';
import type { JobState } from '../../../job/state';
import { suggestFinding, type Finding } from '../../model/check-finding';
import { plainWords } from '../../model/words';
import { Pick } from '../../parts/choice';
import { Note } from '../../parts/note';

const FINDINGS: readonly { readonly value: Finding; readonly words: string }[] = [
  { value: 'sound', words: 'Sound: nothing that forbids a sweep' },
  { value: 'ground-fault', words: 'Ground fault' },
  { value: 'supply-fault', words: 'Supply fault' },
  { value: 'stabiliser-fault', words: 'Stabiliser fault' },
  { value: 'wire-fault', words: 'Wire fault' },
  { value: 'sender-suspect', words: 'Sender suspect' },
  { value: 'gauge-suspect', words: 'Gauge suspect' },
  { value: 'undetermined', words: 'Cause not found' },
];

type ConclusionProps = {
  readonly state: JobState;
  /** What the measurements are worth in dial units; not there yet while it is computed. */
  readonly worth: CheckFinding | undefined;
  readonly send: (command: JobCommand) => void;
  /** The finding that stands; left out while the check is going on, or going on anew. */
  readonly concluded: JobState['conclusion'];
  readonly again: () => void;
  readonly goOn: () => void;
};

/** What was found and why. The page proposes, the person decides. */
export function CheckConclusion(props: ConclusionProps): JSX.Element {
  const { state, worth, concluded, send } = props;
  const proposed = suggestFinding(state, worth);
  const [chosen, setChosen] = useState<Finding | undefined>(undefined);
  const finding = chosen ?? proposed.finding;
  if (concluded !== undefined) return <Concluded {...props} conclusion={concluded} />;
  const conclude = (): void => {
    const sentence =
      finding === proposed.finding
        ? proposed.sentence
        : (FINDINGS.find((each) => each.value === finding)?.words ?? 'Cause not found');
    send({ kind: 'conclude-check', finding, sentence, evidence: [...proposed.evidence] });
  };
  return (
    <div class="stack">
      <Note kind={proposed.finding === 'sound' ? 'good' : 'caution'} word="The answers point to">
        <p class="prompt">{plainWords(proposed.sentence)}</p>
      </Note>
      <Pick label="Your finding" options={FINDINGS} chosen={finding} onChoose={setChosen} />
      <div>
        <button type="button" class="button button-main" onClick={conclude}>
          Put it on the sheet
        </button>
      </div>
      <h3>The evidence</h3>
      <EvidenceList evidence={proposed.evidence} />
    </div>
  );
}

type ConcludedProps = Pick<ConclusionProps, 'again' | 'goOn'> & {
  readonly conclusion: NonNullable<JobState['conclusion']>;
};

/** A fault is put right before anything else: only then is the sweep worth its minutes. */
function Concluded({ conclusion, again, goOn }: ConcludedProps): JSX.Element {
  const isFault = isFaultFound(conclusion.finding);
  return (
    <Note kind={conclusion.finding === 'sound' ? 'good' : 'caution'} word="Found">
      <p class="prompt">{plainWords(conclusion.sentence)}</p>
      <div class="row">
        {isFault ? (
          <button type="button" class="button button-main" onClick={again}>
            It is put right: check again
          </button>
        ) : null}
        <button type="button" class={isFault ? 'button' : 'button button-main'} onClick={goOn}>
          {isFault ? 'Sweep all the same' : 'On to the sweep'}
        </button>
      </div>
      <EvidenceList evidence={conclusion.evidence} />
    </Note>
  );
}

const EvidenceList = ({ evidence }: { readonly evidence: readonly string[] }): JSX.Element | null =>
  evidence.length === 0 ? null : (
    <ul>
      {evidence.map((line) => (
        <li key={line}>{plainWords(line)}</li>
      ))}
    </ul>
  );
