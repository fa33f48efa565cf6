import type { JSX } from 'preact';
import type { GaugeCurve } from '../../../core/curve/types';
import type { JobCommand } from '../../../job/commands';
import type { CurveFinding } from '../../../job/findings';
import type { Gauge } from '../../../job/gauge';
import type { JobState, Reading } from '../../../job/state';
import { countedReadings } from '../../../job/views';
import { sentence, shownOhm, shownReading, shownSpread, shownUnit } from '../../model/words';
import { Remarks } from '../../parts/remarks';
import { Plot } from '../../plot/plot';
import { TableBox } from '../../parts/table-box';

type CurveViewProps = {
  readonly state: JobState;
  readonly finding: CurveFinding | undefined;
  readonly send: (command: JobCommand) => void;
};

/** Readings by leg, the fitted curve with its band, and the table that says the same. */
export function CurveView({ state, finding, send }: CurveViewProps): JSX.Element {
  return (
    <div class="stack">
      <h3>The curve so far</h3>
      <CurvePlot state={state} line={finding?.line ?? []} />
      <p class="hint">
        Filled dots: needle going up. Open dots: going down. Line: fitted curve with its band.
      </p>
      {finding === undefined ? null : finding.curve.kind === 'refused' ? (
        <p class="soft">No curve yet. {sentence(finding.curve.message)}</p>
      ) : (
        <CurveWords curve={finding.curve} gauge={state.gauge} />
      )}
      <ReadingsTable state={state} send={send} />
    </div>
  );
}

const LAW_WORDS: Readonly<Record<GaugeCurve['law']['name'], string>> = {
  ratio: 'ratio law',
  'two-coil': 'two-coil law',
  thermal: 'thermal law',
  'cross-coil': 'cross-coil law',
  'monotone-spline': 'smooth monotone curve',
  interpolant: 'curve through the points',
};

/** How well the curve is known where the person looks: at the marks. */
export function curveSummary(curve: GaugeCurve, gauge: Gauge): string {
  const known = curve.marks
    .filter((mark) => mark.note === 'measured')
    .map((mark) => markUncertainty(curve, mark))
    .filter((each) => Number.isFinite(each));
  const hysteresis =
    curve.hysteresis.kind === 'measured'
      ? ` Legs differ by up to ${shownSpread(curve.hysteresis.largest, gauge).slice(1)}.`
      : '';
  const how = known.length === 0 ? '' : `, known to ${shownSpread(Math.max(...known), gauge)} (95 %)`;
  return `Fitted: ${LAW_WORDS[curve.law.name]}${how}.${hysteresis}`;
}

/** The uncertainty of a mark's resistance, turned into dial units by its own budget. */
const markUncertainty = (_curve: GaugeCurve, mark: GaugeCurve['marks'][number]): number =>
  mark.coverageFactor * Math.hypot(...mark.budget.map((line) => line.readingUncertainty));

function CurveWords({ curve, gauge }: { readonly curve: GaugeCurve; readonly gauge: Gauge }): JSX.Element {
  return (
    <>
      <p>{curveSummary(curve, gauge)}</p>
      <Remarks words={curve.warnings.map((warning) => warning.message)} />
    </>
  );
}

const LOG_RATIO = 5;

function CurvePlot({
  state,
  line,
}: {
  readonly state: JobState;
  readonly line: CurveFinding['line'];
}): JSX.Element {
  const counted = countedReadings(state);
  if (counted.length === 0) return <p class="soft">The curve draws itself here as readings come in.</p>;
  const dots = (leg: Reading['leg']): { x: number; y: number }[] =>
    counted
      .filter((reading) => reading.leg === leg)
      .map((reading) => ({ x: reading.resistanceOhm, y: reading.reading }));
  const ohms = counted.map((reading) => reading.resistanceOhm);
  return (
    <Plot
      label={`Readings against resistance: ${counted.length} points. The table below holds the same figures.`}
      xLabel="resistance, ohm"
      yLabel={`reading, ${shownUnit(state.gauge.unit)}`}
      isXLog={Math.min(...ohms) > 0 && Math.max(...ohms) / Math.min(...ohms) > LOG_RATIO}
      series={[
        { label: 'upper edge', look: 'edge', points: line.map(({ x, high }) => ({ x, y: high })) },
        { label: 'lower edge', look: 'edge', points: line.map(({ x, low }) => ({ x, y: low })) },
        { label: 'curve', look: 'line', points: line },
        { label: 'going up', look: 'dots-up', points: dots('up') },
        { label: 'going down', look: 'dots-down', points: dots('down') },
      ]}
      band={[0, 1]}
      levels={state.gauge.marks.map((mark) => mark.reading)}
    />
  );
}

type TableProps = Omit<CurveViewProps, 'finding'>;

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
            <th scope="col">Leg</th>
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
