import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { Candidate, Trimmed } from '../../../core/network';
import type { JobCommand } from '../../../job/schema/commands';
import type { TrimFinding } from '../../../job/findings';
import type { Gauge } from '../../../job/schema/gauge';
import type { TrimCandidate } from '../../../job/schema/trim';
import type { Limit } from '../../../job/proof/verdict';
import { adviceWords, heatWords } from '../../../words/at-work';
import { dangerWords, placeWords, ruleWords, searchedWords, topologyWords } from '../../../words/network';
import { printed } from '../../../words/notation';
import { said } from '../../../words/refusal';
import { saidRemark } from '../../../words/remark';
import { shownPart, shownSpread } from '../../parts/words';
import { Note } from '../../parts/note';
import { CandidateView } from './candidate-view';
import { OffersView } from './offers';
import { TableBox } from '../../parts/table-box';

type AnswerProps = {
  readonly gauge: Gauge;
  readonly finding: TrimFinding;
  readonly chosen: TrimCandidate | undefined;
  /** How far off is still right, by this job. */
  readonly limit: Limit;
  readonly send: (command: JobCommand) => void;
  readonly goOn: () => void;
  readonly toSender: () => void;
  /** Opens the sender station for a sender that is not there yet. */
  readonly tryAnother: () => void;
};

const MOST_SHOWN = 8;

/** The networks found, best first, or the law that forbids them and how near resistors could come. */
export function TrimAnswer(props: AnswerProps): JSX.Element {
  const { gauge, finding } = props;
  const { trimmed } = finding;
  const [index, setIndex] = useState<number | undefined>(undefined);
  if (trimmed.kind === 'refused') return <Forbidden {...props} trimmed={trimmed} />;
  const at = index ?? trimmed.recommended;
  const candidate = trimmed.candidates[at];
  return (
    <div class="stack">
      {candidate === undefined ? null : (
        <Advice
          {...props}
          candidate={candidate}
          trimmed={trimmed}
          isRecommended={at === trimmed.recommended}
        />
      )}
      {trimmed.offers === undefined ? null : (
        <OffersView offers={trimmed.offers} withoutRule={trimmed.withoutRule} unit={gauge.unit} />
      )}
      <CandidateTable
        gauge={gauge}
        candidates={trimmed.candidates.slice(0, MOST_SHOWN)}
        recommended={trimmed.recommended}
        shown={at}
        onShow={setIndex}
      />
      <p class="hint">
        Rule kept: the gauge {ruleWords(trimmed.rule.says, gauge.unit, printed)}
        {trimmed.rule.danger === undefined
          ? ''
          : `; ${dangerWords(trimmed.rule.danger, gauge.unit, printed)}`}
        . {trimmed.certificate.combinations.toLocaleString('en')} networks of{' '}
        {searchedWords(trimmed.certificate.values, printed)} were searched; none is better.
      </p>
      {trimmed.remarks.map((remark) => (
        <p key={remark.code}>{saidRemark(remark, printed)}</p>
      ))}
      {candidate === undefined ? null : (
        <CandidateView
          {...props}
          candidate={candidate}
          before={finding.before}
          tolerance={finding.tolerance?.bands[at]}
          tolerancePercent={finding.tolerance?.percent}
        />
      )}
    </div>
  );
}

type Refusal = Extract<TrimFinding['trimmed'], { kind: 'refused' }>;

/** The law of circuits that forbids it and how near resistors come; or what is wrong with what was asked. */
function Forbidden(props: AnswerProps & { readonly trimmed: Refusal }): JSX.Element {
  const { trimmed, finding } = props;
  // Where a law of circuits forbids it, how near resistors come is always told; else the question itself was wrong.
  const nearest = 'nearest' in trimmed ? trimmed.nearest : undefined;
  const isLaw = nearest !== undefined;
  const about = finding.of === undefined ? '' : `The ${finding.of}'s curve: `;
  return (
    <div class="stack">
      <Note kind="wrong" word={isLaw ? 'No resistors can do this' : 'Mend this first: nothing was searched'}>
        <p>
          {about}
          {said(trimmed, printed)}
        </p>
        <div>
          <button
            type="button"
            class="button button-main"
            onClick={isLaw ? props.tryAnother : props.toSender}
          >
            {isLaw ? 'Try another sender' : 'To the sender'}
          </button>
        </div>
      </Note>
      {'offers' in trimmed && trimmed.offers !== undefined ? (
        <OffersView offers={trimmed.offers} withoutRule={trimmed.withoutRule} unit={props.gauge.unit} />
      ) : null}
      {nearest === undefined ? null : (
        <>
          <h3>The nearest that resistors can come</h3>
          <CandidateView {...props} candidate={nearest} before={finding.before} isOnlyNearest />
        </>
      )}
    </div>
  );
}

/** What to put where, and whether this job would call the result right. */
type AdviceProps = AnswerProps & {
  readonly candidate: Candidate;
  readonly trimmed: Trimmed;
  readonly isRecommended: boolean;
};

/** The sender is heated by the gauge, and nobody knows by how much: what is said holds for a cold one. */
const isHeatLeftOut = ({ heat }: Trimmed): boolean =>
  heat.kind === 'not-counted' && heat.because === 'circuit-not-known';

const Advice = (props: AdviceProps): JSX.Element => (
  <>
    <p class="prompt">{adviceOn(props)}</p>
    {isHeatLeftOut(props.trimmed) ? (
      <Note kind="caution" word="Before you solder">
        <p>{heatWords(props.trimmed.heat, props.gauge.unit, printed)}</p>
      </Note>
    ) : (
      <p class="hint">{heatWords(props.trimmed.heat, props.gauge.unit, printed)}</p>
    )}
    {props.candidate.worstError > props.limit.size ? (
      <p>That is more than the {shownSpread(props.limit.size, props.gauge)} this job allows at the proof.</p>
    ) : null}
  </>
);

/** The whole answer in one sentence: what to put where, and what it is good for. */
function adviceOn(props: AdviceProps): string {
  const { candidate, finding, gauge, limit, trimmed, isRecommended } = props;
  const { before } = finding;
  const { advice } = trimmed;
  const near = trimmed.candidates[trimmed.nearest];
  if (isRecommended && (advice.kind === 'measure-heat' || advice.kind === 'no-resistor-helps')) {
    const says = adviceWords(advice, gauge.unit, printed);
    return near === undefined || near === candidate
      ? says
      : `${says} The nearest is ${partsWords(near)}: worst error ${shownSpread(near.worstError, gauge)}.`;
  }
  const isGood = candidate.worstError <= limit.size;
  const worst = shownSpread(candidate.worstError, gauge);
  if (candidate.parts.length === 0)
    return isGood
      ? `Leave it as it is: the worst error is ${worst}.`
      : `None of these parts makes it better: the worst error stays ${worst}.`;
  const parts = candidate.parts.map((part) => `${shownPart(part.resistanceOhm)} ${placeWords[part.place]}`);
  const untrimmed = Math.max(0, ...before.map((point) => Math.abs(point.y)));
  const holds = isHeatLeftOut(trimmed) ? 'with the sender cold the worst error' : 'the worst error';
  return `Put ${parts.join(' and ')}: ${holds} falls from ${shownSpread(untrimmed, gauge)} to ${worst}.`;
}

type TableProps = {
  readonly gauge: Gauge;
  readonly candidates: readonly Candidate[];
  readonly recommended: number;
  readonly shown: number;
  readonly onShow: (index: number) => void;
};

const partsWords = (candidate: Pick<Candidate, 'parts'>): string =>
  candidate.parts.map((part) => shownPart(part.resistanceOhm).replace(' ', '\u00a0')).join(' + ');

function CandidateTable({ gauge, candidates, recommended, shown, onShow }: TableProps): JSX.Element {
  return (
    <TableBox label="Table of networks">
      <table>
        <caption>Networks, best first</caption>
        <thead>
          <tr>
            <th scope="col">
              <span class="unseen">Look at it</span>
            </th>
            <th scope="col">Network</th>
            <th scope="col">Parts</th>
            <th scope="col" class="number">
              Worst error
            </th>
          </tr>
        </thead>
        <tbody>
          {candidates.map((candidate, index) => (
            <tr
              key={`${candidate.topology} ${partsWords(candidate)}`}
              aria-current={index === shown ? 'true' : undefined}
            >
              {/* First: on a narrow screen the last column may lie beside the view. */}
              <td>
                <button
                  type="button"
                  class="button button-plain"
                  aria-pressed={index === shown}
                  onClick={() => onShow(index)}
                >
                  {index === shown ? 'Shown' : 'Look'}
                  <span class="unseen">
                    {' '}
                    at {topologyWords[candidate.topology]} {partsWords(candidate)}
                  </span>
                </button>
              </td>
              <td>
                {topologyWords[candidate.topology]}
                {index === recommended ? <strong> (recommended)</strong> : null}
                {candidate.keepsRule ? null : ' (breaks the rule)'}
              </td>
              <td>{partsWords(candidate) || '\u2014'}</td>
              <td class="number">{shownSpread(candidate.worstError, gauge)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </TableBox>
  );
}
