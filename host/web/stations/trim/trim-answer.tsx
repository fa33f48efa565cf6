import type { JSX, RefObject } from 'preact';
import { useRef, useState } from 'preact/hooks';
import type { Candidate, Trimmed } from '../../../core/network';
import type { JobState } from '../../../job/state/state';
import { trimShut } from '../../../job/proof/chain-gate';
import { limitOf } from '../../../job/proof/verdict';
import { adviceWords, heatWords } from '../../../words/at-work';
import { dangerWords, ruleWords, searchedWords } from '../../../words/network';
import { printed } from '../../../words/notation';
import { saidRemark } from '../../../words/remark';
import { errorsVerdict, offersSays, partsSum, trimSentence } from '../../../words/trim-answer';
import { Caution } from '../../parts/caution';
import { Fold } from '../../parts/fold';
import { Icon } from '../../parts/icon';
import { Verdict } from '../../parts/verdict';
import { shownSpread } from '../../parts/words';
import { chosenFrom, isChosen } from '../../../job/state/chosen';
import { trimVerdict, untrimmedError } from '../../../scene/trim-errors';
import { ErrorTable, NetworkList, WhatIfTable } from './network-tables';
import { NetworkView } from './network-view';
import { OffersView } from './offers';
import { TrimRefusal } from './trim-refusal';
import type { AnswerProps } from './answer-props';
import { toChainTest } from './chain-gate';

/** The network to fit, or the law that forbids it and what does work. */
export function TrimAnswer(props: AnswerProps): JSX.Element {
  const { trimmed } = props.finding;
  return trimmed.kind === 'refused' ? (
    <TrimRefusal {...props} trimmed={trimmed} />
  ) : (
    <TrimResult {...props} trimmed={trimmed} />
  );
}

const MOST_SHOWN = 8;

type ResultProps = AnswerProps & { readonly trimmed: Trimmed };

function TrimResult(props: ResultProps): JSX.Element {
  const { state, finding, trimmed } = props;
  const [index, setIndex] = useState<number | undefined>(undefined);
  const others = useRef<HTMLDivElement>(null);
  const at = index ?? trimmed.recommended;
  const candidate = trimmed.candidates[at];
  if (candidate === undefined) return <p>No network was found.</p>;
  const shown = trimmed.candidates.slice(0, MOST_SHOWN);
  const showOthers = (): void => {
    const fold = others.current?.querySelector('details');
    if (fold instanceof HTMLDetailsElement) fold.open = true;
    others.current?.scrollIntoView({ block: 'nearest' });
  };
  return (
    <div class="stack answer">
      <Advice {...props} candidate={candidate} isRecommended={at === trimmed.recommended} />
      <NetworkView
        state={state}
        gauge={state.gauge}
        candidate={candidate}
        before={finding.before}
        limit={limitOf(state).size}
        tolerance={finding.tolerance?.bands[at]}
        tolerancePercent={finding.tolerance?.percent}
        actions={<Actions {...props} candidate={candidate} count={shown.length} showOthers={showOthers} />}
      />
      {isChosen(state.trimChosen, candidate) ? (
        <Verdict kind="good">Chosen. Build it, measure it, fit it, then prove it in the vehicle.</Verdict>
      ) : null}
      <Folds {...props} candidate={candidate} shown={shown} at={at} onShow={setIndex} others={others} />
    </div>
  );
}

type ActionsProps = ResultProps & {
  readonly candidate: Candidate;
  readonly count: number;
  readonly showOthers: () => void;
};

/** To fit it, or, when it is chosen, the way on; the others stand one press away. */
function Actions({ state, send, goOn, candidate, count, showOthers }: ActionsProps): JSX.Element {
  const isShut = candidate.parts.length > 0 && trimShut(state) !== undefined;
  return (
    <>
      {isChosen(state.trimChosen, candidate) ? (
        <button type="button" class="button button-main" onClick={goOn}>
          On to the proof <Icon of="go" />
        </button>
      ) : (
        <button
          type="button"
          class="button button-main"
          onClick={() =>
            isShut ? toChainTest() : send({ kind: 'choose-trim', candidate: chosenFrom(candidate) })
          }
        >
          {isShut
            ? 'First the chain test'
            : candidate.parts.length === 0
              ? 'Leave it as it is'
              : 'Fit this one'}
        </button>
      )}
      {count < 2 ? null : (
        <button type="button" class="button" onClick={showOthers}>
          {count === 2 ? 'The other one' : `${count - 1} others`}
        </button>
      )}
    </>
  );
}

type FoldsProps = ResultProps & {
  readonly candidate: Candidate;
  readonly shown: readonly Candidate[];
  readonly at: number;
  readonly onShow: (index: number) => void;
  readonly others: RefObject<HTMLDivElement | null>;
};

/** What a person may want to know besides, each told on its closed line. */
function Folds({ state, trimmed, candidate, shown, at, onShow, others }: FoldsProps): JSX.Element {
  return (
    <div class="folds">
      <Fold line="What if" says="the next sender is off, the dash is hot, the battery is low">
        <WhatIfTable gauge={state.gauge} candidate={candidate} />
      </Fold>
      <div ref={others}>
        <Fold line="Other networks" says={othersSays(shown, at, state)}>
          <NetworkList
            gauge={state.gauge}
            candidates={shown}
            recommended={trimmed.recommended}
            shown={at}
            onShow={onShow}
          />
        </Fold>
      </div>
      <Fold line="Error at each value" says="table">
        <ErrorTable gauge={state.gauge} candidate={candidate} />
      </Fold>
      {trimmed.offers === undefined ? null : (
        <Fold line="What would do instead" says={offersSays(trimmed.offers)}>
          <OffersView offers={trimmed.offers} withoutRule={trimmed.withoutRule} unit={state.gauge.unit} />
        </Fold>
      )}
      <Searched state={state} trimmed={trimmed} />
    </div>
  );
}

/** "4 more, the next of them 1.5 kohm + 18 ohm at +-2.9 degC": by the rank of the search, which weighs what is dangerous. */
function othersSays(shown: readonly Candidate[], at: number, { gauge }: JobState): string {
  const others = shown.filter((_, index) => index !== at);
  const [next] = others;
  if (next === undefined) return 'none';
  const parts = partsSum(next, printed) || 'nothing at all';
  return `${others.length} more, the next of them ${parts} at ${shownSpread(next.worstError, gauge)}`;
}

function Searched({ state, trimmed }: { readonly state: JobState; readonly trimmed: Trimmed }): JSX.Element {
  const { unit } = state.gauge;
  const { rule, certificate, remarks } = trimmed;
  return (
    <Fold
      line="Rule and search"
      says={`${certificate.combinations.toLocaleString('en')} networks, none better by the rule`}
    >
      <p>
        Rule kept: the gauge {ruleWords(rule.says, unit, printed)}
        {rule.danger === undefined ? '' : `; ${dangerWords(rule.danger, unit, printed)}`}. Searched:{' '}
        {searchedWords(certificate.values, printed)}.
      </p>
      {remarks.map((remark) => (
        <p key={remark.code}>{saidRemark(remark, printed)}</p>
      ))}
    </Fold>
  );
}

type AdviceProps = ResultProps & { readonly candidate: Candidate; readonly isRecommended: boolean };

/** The sender is heated by the gauge, and nobody knows by how much: what is said holds for a cold one. */
const isHeatLeftOut = ({ heat }: Trimmed): boolean =>
  heat.kind === 'not-counted' && heat.because === 'circuit-not-known';

/** The sentence, whether this job would call it right, and what must be known before any soldering. */
function Advice(props: AdviceProps): JSX.Element {
  const { state, trimmed, candidate, finding, isRecommended } = props;
  const { gauge } = state;
  const isCold = isHeatLeftOut(trimmed);
  const limit = limitOf(state).size;
  const told = trimVerdict(candidate.errorTable, limit, isCold);
  const { advice } = trimmed;
  const isWarned = isRecommended && (advice.kind === 'measure-heat' || advice.kind === 'no-resistor-helps');
  const untrimmed = untrimmedError(finding.before);
  const heat = heatWords(trimmed.heat, gauge.unit, printed);
  return (
    <>
      <div class="answer-top">
        <div>
          <h3 class="lead">
            {isWarned
              ? WARNED[advice.kind]
              : trimSentence({ network: candidate, untrimmed, limit, isCold }, gauge.unit, printed)}
          </h3>
          {isWarned ? (
            <Verdict kind="doubt">
              {adviceWords(advice, gauge.unit, printed)}
              {nearestWords(trimmed, candidate, state)}
            </Verdict>
          ) : told === undefined ? null : (
            <Verdict
              kind={told.reach === 'outside' ? 'bad' : told.reach === 'inside' && !isCold ? 'good' : 'doubt'}
            >
              {errorsVerdict(told, gauge.unit, printed)}
            </Verdict>
          )}
        </div>
      </div>
      {isCold ? (
        <Caution line="Before you solder: its own current heats the sender">
          <p>{heat}</p>
        </Caution>
      ) : (
        <p class="hint">{heat}</p>
      )}
    </>
  );
}

/** Nothing is to be soldered yet: why stands in the line below. */
const WARNED = {
  'measure-heat': 'Fit no resistor yet: measure the heat first.',
  'no-resistor-helps': 'No resistor helps enough.',
} as const;

function nearestWords(trimmed: Trimmed, candidate: Candidate, { gauge }: JobState): string {
  const near = trimmed.candidates[trimmed.nearest];
  return near === undefined || near === candidate
    ? ''
    : ` The nearest is ${partsSum(near, printed)}: worst error ${shownSpread(near.worstError, gauge)}.`;
}
