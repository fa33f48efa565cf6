import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { JobCommand } from '../../../job/commands';
import type { CheckFinding } from '../../../job/findings';
import type { JobState } from '../../../job/state';
import { suggestFinding, type Finding } from '../../model/check-finding';
import { plainWords } from '../../model/words';
import { Pick } from '../../parts/choice';
import { Note } from '../../parts/note';

const FINDINGS: readonly { readonly value: Finding; readonly words: string }[] = [
  { value: 'sound', words: 'Supply, ground and wire are sound' },
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
  readonly goOn: () => void;
};

/** What was found and why. The page proposes, the person decides. */
export function CheckConclusion({ state, worth, send, goOn }: ConclusionProps): JSX.Element {
  const proposed = suggestFinding(state, worth);
  const [chosen, setChosen] = useState<Finding | undefined>(undefined);
  const finding = chosen ?? proposed.finding;
  if (state.conclusion !== undefined) {
    return (
      <Note kind={state.conclusion.finding === 'sound' ? 'good' : 'caution'} word="Found">
        <p class="prompt">{plainWords(state.conclusion.sentence)}</p>
        <div>
          <button type="button" class="button button-main" onClick={goOn}>
            On to the sweep
          </button>
        </div>
        <EvidenceList evidence={state.conclusion.evidence} />
      </Note>
    );
  }
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

const EvidenceList = ({ evidence }: { readonly evidence: readonly string[] }): JSX.Element | null =>
  evidence.length === 0 ? null : (
    <ul>
      {evidence.map((line) => (
        <li key={line}>{plainWords(line)}</li>
      ))}
    </ul>
  );
