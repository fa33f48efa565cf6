import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { JobCommand } from '../../../job/schema/commands';
import type { JobState } from '../../../job/state/state';
import { missingFromProof, proofVerdict, provingPairs, type ProofVerdict } from '../../../job/proof/proof';
import { limitOf, ruleOf, type Verdict } from '../../../job/proof/verdict';
import { proofRemarks } from '../../../job/proof/proof-remarks';
import { shownUnit } from '../../parts/words';
import { Choice } from '../../parts/choice';
import { NumberField, useNumberDraft } from '../../parts/number-field';
import { Verdict as VerdictLine } from '../../parts/verdict';
import { fittedWords } from '../../../words/fitted';
import { printed } from '../../../words/notation';
import { RULE_WORDS } from '../../../words/judged';
import { limitWords, missingWords, proofRemarkWords, proofSentence } from '../../../words/proof';
import { asSentence } from '../../../words/sentence';

const HIGHEST_PERCENT = 50;

type LimitProps = { readonly state: JobState; readonly send: (command: JobCommand) => void };

/** How far off is still right: the job's own limit, in dial units or as a part of the scale. */
export function ProofLimit({ state, send }: LimitProps): JSX.Element {
  const { gauge } = state;
  const limit = limitOf(state);
  const [kind, setKind] = useState<'size' | 'percent'>(limit.percent === undefined ? 'size' : 'percent');
  const draft = useNumberDraft('', kind === 'percent' ? '%' : shownUnit(gauge.unit), 0);
  const value = draft.value;
  const isGood = value !== undefined && value > 0 && (kind === 'size' || value <= HIGHEST_PERCENT);
  const set = (): void => {
    if (value === undefined || !isGood) return;
    send({
      kind: 'set-proof-limit',
      limit: kind === 'size' ? { kind, size: value } : { kind, percent: value },
    });
    draft.setText('');
  };
  const unit = shownUnit(gauge.unit);
  return (
    <details>
      <summary>Limit: {limitWords(limit, gauge)}</summary>
      <div class="stack">
        <Choice
          label="How far off is still right?"
          options={[
            { value: 'size', words: `in ${unit}` },
            { value: 'percent', words: '% of the scale' },
          ]}
          chosen={kind}
          onChoose={setKind}
        />
        <div class="row row-end">
          <NumberField
            label="At most"
            unit={`\u00b1 ${kind === 'size' ? unit : '%'}`}
            draft={draft}
            onEnter={set}
          />
          <button type="button" class="button" disabled={!isGood} onClick={set}>
            Set the limit
          </button>
        </div>
        <ProofRule state={state} />
      </div>
    </details>
  );
}

const HEADS: Readonly<Record<Verdict | 'begun', string>> = {
  within: 'Within the limit',
  outside: 'Outside the limit',
  'cannot-tell': 'It cannot be told',
  begun: 'Proof begun',
};
const SIGNS = { within: 'good', outside: 'bad', 'cannot-tell': 'doubt', begun: 'doubt' } as const;

/** Of the pairs that count, the one that is farthest off. */
function worstPair(state: JobState): { readonly error: number; readonly at: number } | undefined {
  const pairs = provingPairs(state).map(({ reference, indicated }) => ({
    error: indicated - reference,
    at: reference,
  }));
  return pairs.sort((one, other) => Math.abs(other.error) - Math.abs(one.error))[0];
}

/** The proof in one sentence, with its limit, its rule and its uncertainty; or that it is only begun, and what it wants. */
export function ProofSummary({ state }: { readonly state: JobState }): JSX.Element {
  const proof = proofVerdict(state);
  const missing = missingFromProof(state);
  const isWhole = proof !== undefined && missing.length === 0;
  const isOutside = proof?.verdict === 'outside';
  const verdict = proof !== undefined && (isWhole || isOutside) ? proof.verdict : 'begun';
  const { size } = limitOf(state);
  const { unit } = state.gauge;
  return (
    <div class="stack">
      <p class="lead">
        {proofSentence(
          { verdict, limit: size, wanted: missing.length, worst: worstPair(state) },
          unit,
          printed,
        )}
      </p>
      <VerdictLine kind={SIGNS[verdict]}>
        <b>{HEADS[verdict]}</b>. As left, {fittedWords(state)}:{' '}
        {proof === undefined ? 'nothing proved yet' : countWords(proof)}. Limit{' '}
        {limitWords(limitOf(state), state.gauge)}.
      </VerdictLine>
      {proofRemarks(state).map((remark) => (
        <p key={remark.kind}>
          <strong>{asSentence(proofRemarkWords(remark, state.gauge.unit, printed))}</strong>
        </p>
      ))}
      {missing.length === 0 ? null : (
        <>
          <p>Still wanted:</p>
          <ul>
            {missing.map((each) => (
              <li key={each}>{missingWords(each, state, printed)}</li>
            ))}
          </ul>
        </>
      )}
    </div>
  );
}

const ProofRule = ({ state }: { readonly state: JobState }): JSX.Element => (
  <p class="hint">
    Rule: {RULE_WORDS[ruleOf(state)]}. Uncertainty at 95 %: half a division of the dial and the reference,
    together; the chance is that of the true error lying inside the limit.
  </p>
);

/** "2 of 3 within, 1 outside; 2 run, 1 substituted". */
const countWords = ({ counted, isWithin, isOutside, run, substituted }: ProofVerdict): string => {
  const doubtful = counted - isWithin - isOutside;
  return [
    `${isWithin} of ${counted} within`,
    ...(isOutside === 0 ? [] : [`${isOutside} outside`]),
    ...(doubtful === 0 ? [] : [`${doubtful} cannot be told`]),
    `${run} run and ${substituted} substituted`,
  ].join(', ');
};
