import type { JSX } from 'preact';
import type { FittedSender } from '../../../core/sender';
import type { JobCommand } from '../../../job/schema/commands';
import type { Findings, SenderFinding } from '../../../job/findings';
import type { JobState } from '../../../job/state/state';
import { shownOhm, shownUnit } from '../../parts/words';
import { Fold } from '../../parts/fold';
import { Verdict } from '../../parts/verdict';
import { SenderPlot } from './sender-plot';
import { TableBox } from '../../parts/table-box';
import { givesSentence } from '../../../words/answer';
import { printed } from '../../../words/notation';
import { saidRefusal } from '../../../words/refusal';
import { saidRemark } from '../../../words/remark';
import { reasonWords } from '../../../words/remark/sender';

type SenderViewProps = {
  readonly state: JobState;
  readonly findings: Findings | undefined;
  readonly shown: string;
  readonly send: (command: JobCommand) => void;
  /** The way on, beside the sentence. */
  readonly actions: JSX.Element | null;
};

/** The points and the fitted law of the sender at hand, the other senders' curves beside it for comparison. */
export function SenderView({ state, findings, shown, send, actions }: SenderViewProps): JSX.Element {
  const senders = findings?.senders ?? [];
  const finding = senders.find((each) => each.senderId === shown);
  return (
    <div class="stack">
      <div class="answer-top">
        <div>
          <SenderAnswer state={state} shown={shown} fitted={finding?.fitted} />
        </div>
        {actions}
      </div>
      <SenderPlot state={state} findings={senders} shown={shown} wanted={findings?.curve?.line ?? []} />
      {finding?.tolerance === undefined ? null : (
        <p class="hint">
          Dash-dotted: what parts within its maker&rsquo;s {'\u00b1'}
          {state.senders.find((each) => each.senderId === shown)?.tolerancePercent} % may have.
        </p>
      )}
      {finding?.fitted.kind === 'refused' || finding === undefined ? null : (
        <SenderLaw fitted={finding.fitted} />
      )}
      <PointsTable state={state} shown={shown} send={send} />
    </div>
  );
}

type AnswerProps = Pick<SenderViewProps, 'state' | 'shown'> & {
  readonly fitted: SenderFinding['fitted'] | undefined;
};

/** What it gives at its ends, and whether points and law agree. */
function SenderAnswer({ state, shown, fitted }: AnswerProps): JSX.Element {
  const points = state.senderPoints
    .filter((point) => point.senderId === shown && point.struckBecause === undefined)
    .sort((one, other) => one.value - other.value);
  const unit = state.senders.find((each) => each.senderId === shown)?.unit ?? state.gauge.unit;
  const ends = [points[0], points.at(-1)].flatMap((point) =>
    point === undefined
      ? []
      : [
          {
            ohm: printed.ohm(point.resistanceOhm).replace(' ', '\u00a0'),
            at: printed.of(point.value, unit).replace(' ', '\u00a0'),
          },
        ],
  );
  const sentence = givesSentence(points.length < 2 ? ends.slice(0, 1) : ends);
  return (
    <>
      {sentence === undefined ? <h3>Sender curve</h3> : <h3 class="lead">{sentence}</h3>}
      {fitted === undefined ? null : fitted.kind === 'refused' ? (
        <p class="soft">No curve yet. {saidRefusal(fitted, printed)}</p>
      ) : (
        <Verdict kind={fitted.warnings.length === 0 ? 'good' : 'doubt'}>
          {fitted.warnings[0] === undefined
            ? `${points.length} points, and the curve through them holds.`
            : saidRemark(fitted.warnings[0], printed)}
        </Verdict>
      )}
    </>
  );
}

/** How its curve was drawn, and what else the computation wants said; folded. */
function SenderLaw({ fitted }: { readonly fitted: FittedSender }): JSX.Element {
  const beta = fitted.beta2585Kelvin === null ? '' : ` B 25/85 = ${fitted.beta2585Kelvin.toFixed(0)} K.`;
  return (
    <div class="folds">
      <Fold line="How the curve was drawn" says={fitted.model}>
        <p>
          {reasonWords(fitted.reason, fitted.model, printed)}
          {beta}
        </p>
        {fitted.warnings.slice(1).map((each) => (
          <p key={JSON.stringify(each)}>{saidRemark(each, printed)}</p>
        ))}
      </Fold>
    </div>
  );
}

function PointsTable({
  state,
  shown,
  send,
}: Pick<SenderViewProps, 'state' | 'shown' | 'send'>): JSX.Element | null {
  const points = state.senderPoints.filter((point) => point.senderId === shown);
  const unit = state.senders.find((each) => each.senderId === shown)?.unit ?? state.gauge.unit;
  if (points.length === 0) return null;
  return (
    <TableBox label="Table of points">
      <table>
        <caption>Points</caption>
        <thead>
          <tr>
            <th scope="col" class="number">
              Value
            </th>
            <th scope="col" class="number">
              Resistance
            </th>
            <th scope="col">From</th>
            <th scope="col">
              <span class="unseen">Strike</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {points.map((point) => (
            <tr key={point.pointId} class={point.struckBecause === undefined ? '' : 'struck'}>
              <td class="number">
                {point.value} {shownUnit(unit)}
              </td>
              <td class="number">{shownOhm(point.resistanceOhm)}</td>
              <td>{point.source}</td>
              <td>
                {point.struckBecause === undefined ? (
                  <button
                    type="button"
                    class="button button-plain"
                    aria-label={`Strike ${point.value} ${shownUnit(unit)}, ${shownOhm(point.resistanceOhm)}`}
                    onClick={() =>
                      send({ kind: 'strike-sender-point', pointId: point.pointId, reason: 'struck by hand' })
                    }
                  >
                    Strike
                  </button>
                ) : (
                  'struck'
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </TableBox>
  );
}
