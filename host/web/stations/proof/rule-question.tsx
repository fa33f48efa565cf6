import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import { decisionRules, narrowestProvable } from '../../../core/proof/decision';
import { takenAsLeft } from '../../../job/proof/proof-struck';
import { limitOf } from '../../../job/proof/verdict';
import type { JobCommand } from '../../../job/schema/commands';
import type { ProofLimit } from '../../../job/schema/proof-shapes';
import type { JobState } from '../../../job/state/state';
import { readingUncertaintyOf } from '../../../job/state/views';
import { limitsWords, RULE_NAMES, RULE_WORDS } from '../../../words/judged';
import { printed } from '../../../words/notation';
import { asSentence } from '../../../words/sentence';
import { Choice } from '../../parts/choice';
import { FROM_ZERO, NumberField, useNumberDraft } from '../../parts/number-field';
import { shownSpread, shownUnit } from '../../parts/words';

/** Limit and rule come before the first pair as left: afterwards they would be chosen to fit it. */
export const isRuleWanted = (state: JobState): boolean =>
  state.fitted !== undefined && state.proofRule === undefined && takenAsLeft(state).length === 0;

type RuleProps = { readonly state: JobState; readonly send: (command: JobCommand) => void };

const COVERAGE_FACTOR = 2;
const RULES = decisionRules.map((value) => ({ value, words: RULE_NAMES[value] }));

export function RuleQuestion({ state, send }: RuleProps): JSX.Element {
  const { gauge, proofLimit } = state;
  const unit = shownUnit(gauge.unit);
  const [kind, setKind] = useState<'usual' | 'job' | 'sides'>(proofLimit === undefined ? 'usual' : 'job');
  const [rule, setRule] = useState<(typeof decisionRules)[number]>('guard');
  const below = useNumberDraft('', unit, FROM_ZERO);
  const above = useNumberDraft('', unit, FROM_ZERO);
  const limit = limitFrom(kind, proofLimit, below.value, above.value);
  const narrowest = narrowestProvable(COVERAGE_FACTOR * readingUncertaintyOf(gauge), rule);
  const usual = limitOf({ gauge, proofLimit: { kind: 'usual' } });
  const dangerous = usual.sides === undefined ? '' : limitsWords(usual.sides, gauge.unit, printed);
  return (
    <div class="stack">
      <p class="prompt">How far off is still right?</p>
      <Choice
        label="Limit"
        options={[
          { value: 'usual', words: `${shownSpread(usual.size, gauge)}; where it is dangerous ${dangerous}` },
          ...(proofLimit === undefined
            ? []
            : [{ value: 'job' as const, words: `${shownSpread(limitOf(state).size, gauge)}, as agreed` }]),
          { value: 'sides', words: 'two sides of your own' },
        ]}
        chosen={kind}
        onChoose={setKind}
      />
      {kind === 'sides' ? (
        <div class="row">
          <NumberField label="Low by at most" unit={unit} draft={below} />
          <NumberField label="High by at most" unit={unit} draft={above} />
        </div>
      ) : null}
      <Choice label="Rule" options={RULES} chosen={rule} onChoose={setRule} />
      <p class="hint">
        {asSentence(RULE_WORDS[rule])}
        {narrowest > 0
          ? ` With this dial alone nothing tighter than ${shownSpread(narrowest, gauge)} can be proved; the reference adds its own.`
          : ''}
      </p>
      <div>
        <button
          type="button"
          class="button button-main"
          disabled={limit === undefined}
          onClick={() => {
            if (limit !== undefined) send({ kind: 'choose-proof-rule', rule, limit });
          }}
        >
          Judge by this
        </button>
      </div>
    </div>
  );
}

/** Undefined until two sides with room between them were typed. */
const limitFrom = (
  kind: 'usual' | 'job' | 'sides',
  agreed: ProofLimit | undefined,
  below: number | undefined,
  above: number | undefined,
): ProofLimit | undefined => {
  if (kind === 'usual') return { kind };
  if (kind === 'job') return agreed;
  return below === undefined || above === undefined || below + above === 0
    ? undefined
    : { kind, lower: -below, upper: above };
};
