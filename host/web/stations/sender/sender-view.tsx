import type { JSX } from 'preact';
import type { FittedSender } from '../../../core/sender';
import type { JobCommand } from '../../../job/schema/commands';
import type { SenderFinding } from '../../../job/findings';
import type { JobState } from '../../../job/state/state';
import { shownOhm, shownUnit } from '../../parts/words';
import { Remarks } from '../../parts/remarks';
import type { PlotSeries } from '../../plot/columns';
import { Plot, type PlotLook } from '../../plot/plot';
import { toleranceSeries } from '../../plot/tolerance-series';
import { TableBox } from '../../parts/table-box';
import { printed } from '../../../words/notation';
import { saidRefusal } from '../../../words/refusal';
import { saidRemark } from '../../../words/remark';
import { reasonWords } from '../../../words/remark/sender';

type SenderViewProps = {
  readonly state: JobState;
  readonly findings: readonly SenderFinding[];
  readonly shown: string;
  readonly send: (command: JobCommand) => void;
};

/** The points and the fitted law of the sender at hand, the other senders' curves beside it for comparison. */
export function SenderView({ state, findings, shown, send }: SenderViewProps): JSX.Element {
  const finding = findings.find((each) => each.senderId === shown);
  return (
    <div class="stack">
      <h3>Sender curve</h3>
      <SenderPlot state={state} findings={findings} shown={shown} />
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

type Shape = Omit<SenderViewProps, 'send'>;

function SenderPlot({ state, findings, shown }: Shape): JSX.Element {
  const points = state.senderPoints.filter(
    (point) => point.struckBecause === undefined && point.senderId === shown,
  );
  if (points.length === 0) return <p class="soft">The curve draws itself here as points come in.</p>;
  const unit = state.senders.find((each) => each.senderId === shown)?.unit ?? state.gauge.unit;
  const comparable = findings.filter(
    (each) => state.senders.find((sender) => sender.senderId === each.senderId)?.unit === unit,
  );
  const lines = comparable.map((each): PlotSeries & { readonly look: PlotLook } => ({
    label: state.senders.find((sender) => sender.senderId === each.senderId)?.title ?? each.senderId,
    look: each.senderId === shown ? 'line' : 'line-dashed',
    points: each.line,
  }));
  const band = findings.find((each) => each.senderId === shown)?.tolerance;
  const dots = points.map((point) => ({ x: point.value, y: point.resistanceOhm }));
  return (
    <Plot
      label={`Sender resistance against value: ${points.length} points. The table below holds the same figures.`}
      xLabel={`value, ${shownUnit(unit)}`}
      yLabel="resistance, ohm"
      series={[...lines, ...toleranceSeries(band), { label: 'points', look: 'dots-up', points: dots }]}
    />
  );
}

function PointsTable({ state, shown, send }: Omit<SenderViewProps, 'findings'>): JSX.Element | null {
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
