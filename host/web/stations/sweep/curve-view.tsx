import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { GaugeCurve } from '../../../core/curve/types';
import type { JobCommand } from '../../../job/schema/commands';
import type { CurveFinding } from '../../../job/findings';
import type { Gauge } from '../../../job/schema/gauge';
import type { JobState, Reading } from '../../../job/state/state';
import { countedReadings } from '../../../job/state/views';
import { curveFacts, knownTo, lawWords } from './curve-facts';
import { shownOhm, shownReading, shownSpread, shownUnit } from '../../parts/words';
import { Note } from '../../parts/note';
import { Remarks } from '../../parts/remarks';
import { Plot } from '../../plot/plot';
import type { PointHands } from '../../plot/plot-points';
import { TableBox } from '../../parts/table-box';
import { PointCard } from './point-card';
import { printed } from '../../../words/notation';
import { saidRefusal } from '../../../words/refusal';
import { saidRemark } from '../../../words/remark';

type CurveViewProps = {
  readonly state: JobState;
  readonly finding: CurveFinding | undefined;
  /** A step can be read again: the box is there, and this screen is not one that only watches. */
  readonly canRepeat: boolean;
  readonly send: (command: JobCommand) => void;
};

/** Readings by leg, the fitted curve with its band, the chosen point, and the table that says the same. */
export function CurveView({ state, finding, canRepeat, send }: CurveViewProps): JSX.Element {
  const [chosen, setChosen] = useState<string | undefined>(undefined);
  const [looked, setLooked] = useState<string | undefined>(undefined);
  const line = finding?.line ?? [];
  const shown = state.readings.find((reading) => reading.readingId === (looked ?? chosen));
  return (
    <div class="stack">
      <h3>The curve so far</h3>
      {state.readings.length === 0 ? (
        <p class="soft">The curve draws itself here as readings come in.</p>
      ) : (
        <>
          <CurvePlot state={state} line={line} hands={{ chosen, onChoose: setChosen, onLook: setLooked }} />
          <p class="hint">
            Filled dots: needle going up. Open dots: going down. Small grey: struck. Line: fitted curve with
            its band.
          </p>
          <PointCard reading={shown} gauge={state.gauge} line={line} canRepeat={canRepeat} send={send} />
        </>
      )}
      {finding === undefined ? null : finding.curve.kind === 'refused' ? (
        <p class="soft">No curve yet. {saidRefusal(finding.curve, printed)}</p>
      ) : (
        <CurveWords curve={finding.curve} state={state} />
      )}
      {state.readings.length === 0 ? null : <ReadingsTable state={state} send={send} />}
    </div>
  );
}

/** How well the curve is known where the person looks: at the marks. */
function curveSummary(curve: GaugeCurve, state: JobState): string {
  const { gauge } = state;
  const known = knownTo(curve);
  const legs =
    curve.hysteresis.kind === 'measured'
      ? ` Up and down differ by up to ${shownSpread(curve.hysteresis.largest, gauge).slice(1)}.`
      : '';
  const how = known === undefined ? '' : `; the curve is known to ${shownSpread(known, gauge)} (95 %)`;
  return `${lawWords(curve, state)}${how}.${legs}`;
}

function CurveWords({ curve, state }: { readonly curve: GaugeCurve; readonly state: JobState }): JSX.Element {
  const { doubtful } = curveFacts({ curve: { curve, line: [] }, senders: [] }, state);
  return (
    <>
      {doubtful === undefined ? (
        <p>{curveSummary(curve, state)}</p>
      ) : (
        <Note kind="caution" word="Read one again">
          <p>
            Repeat the reading at {shownOhm(doubtful.resistanceOhm)}: it speaks against the others.
            {doubtful.good === undefined
              ? ''
              : ` From ${shownReading(doubtful.good.from, state.gauge)} to ${shownReading(doubtful.good.to, state.gauge)} the curve is good to ${shownSpread(doubtful.good.expandedUncertainty, state.gauge)} (95 %).`}
          </p>
        </Note>
      )}
      <Remarks words={curve.warnings.map((each) => saidRemark(each, printed))} />
    </>
  );
}

const LOG_RATIO = 5;

type CurvePlotProps = {
  readonly state: JobState;
  readonly line: CurveFinding['line'];
  readonly hands: Omit<PointHands, 'points'>;
};

function CurvePlot({ state, line, hands }: CurvePlotProps): JSX.Element {
  const { gauge, readings } = state;
  const dots = (isMeant: (reading: Reading) => boolean): { x: number; y: number }[] =>
    readings.filter(isMeant).map((reading) => ({ x: reading.resistanceOhm, y: reading.reading }));
  const ohms = readings.map((reading) => reading.resistanceOhm);
  return (
    <Plot
      label={`Readings against resistance: ${countedReadings(state).length} points. The table below holds the same figures.`}
      xLabel="resistance, ohm"
      yLabel={`reading, ${shownUnit(gauge.unit)}`}
      isXLog={Math.min(...ohms) > 0 && Math.max(...ohms) / Math.min(...ohms) > LOG_RATIO}
      series={[
        { label: 'upper edge', look: 'edge', points: line.map(({ x, high }) => ({ x, y: high })) },
        { label: 'lower edge', look: 'edge', points: line.map(({ x, low }) => ({ x, y: low })) },
        { label: 'curve', look: 'line', points: line },
        { label: 'struck', look: 'dots-struck', points: dots((each) => each.struckBecause !== undefined) },
        ...(['up', 'down'] as const).map((leg) => ({
          label: `going ${leg}`,
          look: `dots-${leg}` as const,
          points: dots((each) => each.struckBecause === undefined && each.leg === leg),
        })),
      ]}
      band={[0, 1]}
      levels={gauge.marks.map((mark) => mark.reading)}
      hands={{
        ...hands,
        points: readings.map((reading) => ({
          id: reading.readingId,
          x: reading.resistanceOhm,
          y: reading.reading,
          words: pointWords(reading, gauge),
        })),
      }}
    />
  );
}

const pointWords = (reading: Reading, gauge: Gauge): string =>
  `${shownReading(reading.reading, gauge)} at ${shownOhm(reading.resistanceOhm)}, going ${reading.leg}` +
  (reading.struckBecause === undefined ? '' : ', struck');

type TableProps = Pick<CurveViewProps, 'state' | 'send'>;

function ReadingsTable({ state, send }: TableProps): JSX.Element {
  const isShared = new Set(state.readings.map((reading) => reading.by)).size > 1;
  return (
    <TableBox label="Readings table">
      <table>
        <caption>Readings</caption>
        <thead>
          <tr>
            <th scope="col" class="number">
              Resistance
            </th>
            <th scope="col" class="number">
              Needle
            </th>
            <th scope="col">Going</th>
            {isShared ? <th scope="col">By</th> : null}
            <th scope="col">
              <span class="unseen">Strike or restore</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {state.readings.map((reading) => (
            <ReadingRow
              key={reading.readingId}
              reading={reading}
              isShared={isShared}
              state={state}
              send={send}
            />
          ))}
        </tbody>
      </table>
    </TableBox>
  );
}

function ReadingRow(
  props: TableProps & { readonly reading: Reading; readonly isShared: boolean },
): JSX.Element {
  const { reading, state, send } = props;
  const isStruck = reading.struckBecause !== undefined;
  const words = `${shownReading(reading.reading, state.gauge)} at ${shownOhm(reading.resistanceOhm)}`;
  return (
    <tr data-reading={reading.readingId} class={isStruck ? 'struck' : ''}>
      <td class="number">{shownOhm(reading.resistanceOhm)}</td>
      <td class="number">
        {shownReading(reading.reading, state.gauge)}
        {reading.atStop === undefined ? '' : ` (${reading.atStop} stop)`}
      </td>
      <td>{reading.leg}</td>
      {props.isShared ? <td>{reading.by}</td> : null}
      <td>
        <button
          type="button"
          class="button button-plain"
          aria-label={`${isStruck ? 'Restore' : 'Strike'} ${words}`}
          onClick={() =>
            send(
              isStruck
                ? { kind: 'restore-reading', readingId: reading.readingId }
                : { kind: 'strike-reading', readingId: reading.readingId, reason: 'struck by hand' },
            )
          }
        >
          {isStruck ? 'Restore' : 'Strike'}
        </button>
      </td>
    </tr>
  );
}
