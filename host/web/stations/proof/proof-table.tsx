import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { JobState, ProofPair } from '../../../job/state/state';
import { provesNothing, tooSoon, type TooSoon } from '../../../job/proof/proof';
import { isReason, LEAST_LETTERS, STRUCK_BY_HAND, wasOutside } from '../../../job/proof/proof-struck';
import { pairResult, probabilityWithin, verdictOf } from '../../../job/proof/verdict';
import { shownError, shownOhm, shownReading, shownSpread } from '../../parts/words';
import { Note } from '../../parts/note';
import { TableBox } from '../../parts/table-box';
import { TextField } from '../../parts/text-field';
import { VERDICT_WORDS } from '../../../words/proof';

type ProofTableProps = {
  readonly state: JobState;
  readonly strike: (pairId: string, reason: string) => void;
};

/** Pairs of reference and needle, with error, uncertainty and a verdict that names its rule. */
export function ProofTable({ state, strike }: ProofTableProps): JSX.Element | null {
  const [asked, setAsked] = useState<ProofPair | undefined>(undefined);
  if (state.proofPairs.length === 0) return null;
  const ask = (pair: ProofPair): void =>
    wasOutside(state, pair) ? setAsked(pair) : strike(pair.pairId, STRUCK_BY_HAND);
  return (
    <div class="stack">
      <TableBox label="Table of proof pairs">
        <table class="pairs">
          <caption>Proof in the vehicle</caption>
          <thead>
            <tr>
              <th scope="col">True {'\u2192'} needle</th>
              <th scope="col" class="number">
                Error {'\u00b1'} (95 %)
              </th>
              <th scope="col">Verdict</th>
            </tr>
          </thead>
          <tbody>
            {state.proofPairs.map((pair) => (
              <PairRow key={pair.pairId} state={state} pair={pair} strike={() => ask(pair)} />
            ))}
          </tbody>
        </table>
      </TableBox>
      {asked === undefined ? null : (
        <WhyStruck
          key={asked.pairId}
          words={shownReading(asked.reference, state.gauge)}
          onReason={(reason) => {
            if (reason !== undefined) strike(asked.pairId, reason);
            setAsked(undefined);
          }}
        />
      )}
    </div>
  );
}

/** A pair outside the limit is struck with a reason, which the record keeps. */
function WhyStruck(props: {
  readonly words: string;
  readonly onReason: (reason: string | undefined) => void;
}): JSX.Element {
  const [reason, setReason] = useState('');
  return (
    <Note kind="plain" word={`The pair at ${props.words} is outside the limit`}>
      <TextField
        label="Why does it not count?"
        text={reason}
        onText={setReason}
        hint={`In words, ${LEAST_LETTERS} letters or more. It stays in the job and on the record with your reason. A fresh pair at its place is wanted.`}
      />
      <div class="row">
        <button
          type="button"
          class="button"
          disabled={!isReason(reason)}
          onClick={() => props.onReason(reason.trim())}
        >
          Strike it for this reason
        </button>
        <button type="button" class="button button-plain" onClick={() => props.onReason(undefined)}>
          Leave it
        </button>
      </div>
    </Note>
  );
}

type RowProps = {
  readonly state: JobState;
  readonly pair: ProofPair;
  readonly strike: () => void;
};

function PairRow(props: RowProps): JSX.Element {
  const { state, pair, strike } = props;
  const { gauge } = state;
  const result = pairResult(state, pair);
  const isStruck = pair.struckBecause !== undefined;
  const isSure = pair.referenceUncertainty !== undefined;
  return (
    <tr class={isStruck ? 'struck' : ''}>
      <td class="figure">
        <span class="nowrap">
          {shownReading(pair.reference, gauge).split(' ')[0]} {'\u2192'} {shownReading(pair.indicated, gauge)}
        </span>
        <small class="soft"> {howWords(pair)}</small>
        {isStruck ? null : (
          <button
            type="button"
            class="button button-plain"
            aria-label={`Strike the pair at ${shownReading(pair.reference, gauge)}`}
            onClick={strike}
          >
            Strike
          </button>
        )}
      </td>
      <td class="number">
        {shownError(result.error, gauge)} {isSure ? shownSpread(result.expandedUncertainty, gauge) : ''}
      </td>
      <td>
        <PairVerdict state={state} pair={pair} />
      </td>
    </tr>
  );
}

/** "as left, rising; substituted: a resistor of 30.4 Ω in the sender's place". */
const howWords = ({ state, leg, method, substitute, referencePlace }: ProofPair): string => {
  const when = `${state.replace('-', ' ')}, ${leg === 'up' ? 'rising' : 'falling'}`;
  if (method === undefined) return when;
  const by = substitute?.with === 'box' ? 'the box at' : 'a resistor of';
  return substitute === undefined
    ? `${when}; run${referencePlace === undefined ? '' : `: ${referencePlace}`}`
    : `${when}; substituted: ${by} ${shownOhm(substitute.resistanceOhm)}`;
};

const AS_GOOD_AS_SURE = 0.999;
const chanceWords = (probability: number): string =>
  probability > AS_GOOD_AS_SURE ? 'chance over 99.9 %' : `chance ${(100 * probability).toFixed(1)} %`;

const seconds = (ms: number): string => `${Math.round(ms / 1_000)} s`;
const soonWords = ({ passedMs, wantedMs }: TooSoon): string =>
  `entered ${seconds(passedMs)} after another pair; the needle needs ${seconds(wantedMs)} to rest: read it again`;

type VerdictProps = { readonly state: JobState; readonly pair: ProofPair };

function PairVerdict({ state, pair }: VerdictProps): JSX.Element {
  if (pair.struckBecause !== undefined)
    return (
      <>
        struck <small class="soft">{pair.struckBecause}</small>
      </>
    );
  const idle = provesNothing(state, pair);
  if (idle !== undefined) return <small class="soft">proves nothing: {idle}</small>;
  if (pair.referenceUncertainty === undefined) return <small class="soft">the reference has no \u00b1</small>;
  const soon = pair.state === 'as-left' ? tooSoon(state, pair) : undefined;
  return (
    <>
      <strong>{VERDICT_WORDS[verdictOf(state, pair)]}</strong>{' '}
      <small class="soft nowrap">{chanceWords(probabilityWithin(state, pair))}</small>
      {soon === undefined ? null : <small class="soft"> {soonWords(soon)}</small>}
    </>
  );
}
