import type { JSX } from 'preact';
import type { FittedSender } from '../../../core/sender';
import type { JobCommand } from '../../../job/schema/commands';
import type { Findings } from '../../../job/findings';
import type { JobState } from '../../../job/state/state';
import { shownOhm, shownUnit } from '../../parts/words';
import { Remarks } from '../../parts/remarks';
import { SenderPlot } from './sender-plot';
import { TableBox } from '../../parts/table-box';
import { printed } from '../../../words/notation';
import { saidRefusal } from '../../../words/refusal';
import { saidRemark } from '../../../words/remark';
import { reasonWords } from '../../../words/remark/sender';

type SenderViewProps = {
  readonly state: JobState;
  readonly findings: Findings | undefined;
  readonly shown: string;
  readonly send: (command: JobCommand) => void;
};

/** The points and the fitted law of the sender at hand, the other senders' curves beside it for comparison. */
export function SenderView({ state, findings, shown, send }: SenderViewProps): JSX.Element {
  const senders = findings?.senders ?? [];
  const finding = senders.find((each) => each.senderId === shown);
  return (
    <div class="stack">
      <h3>Sender curve</h3>
      <SenderPlot state={state} findings={senders} shown={shown} wanted={findings?.curve?.line ?? []} />
      {finding?.tolerance === undefined ? null : (
        <p class="hint">
          Dash-dotted: what parts within its maker&rsquo;s {'\u00b1'}
          {state.senders.find((each) => each.senderId === shown)?.tolerancePercent} % may have.
        </p>
      )}
      {finding === undefined ? null : finding.fitted.kind === 'refused' ? (
        <p class="soft">No curve yet. {saidRefusal(finding.fitted, printed)}</p>
      ) : (
        <SenderWords fitted={finding.fitted} />
      )}
      <PointsTable state={state} shown={shown} send={send} />
    </div>
  );
}

function SenderWords({ fitted }: { readonly fitted: FittedSender }): JSX.Element {
  const beta = fitted.beta2585Kelvin === null ? '' : ` B 25/85 = ${fitted.beta2585Kelvin.toFixed(0)} K.`;
  return (
    <>
      <p>
        Law: {fitted.model}. {reasonWords(fitted.reason, fitted.model, printed)}
        {beta}
      </p>
      <Remarks words={fitted.warnings.map((each) => saidRemark(each, printed))} />
    </>
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
