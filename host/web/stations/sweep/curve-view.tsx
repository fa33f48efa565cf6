import type { JSX } from 'preact';
import type { JobCommand } from '../../../job/commands';
import type { JobState, Reading } from '../../../job/state';
import { countedReadings } from '../../../job/views';
import { curveOf, type DrawnCurve } from '../../model/curve';
import { shownOhm, shownReading, shownUnit } from '../../model/words';
import { Plot } from '../../plot/plot';

type CurveViewProps = { readonly state: JobState; readonly send: (command: JobCommand) => void };

/** Readings by leg, the fitted curve with its band, and the table that says the same. */
export function CurveView({ state, send }: CurveViewProps): JSX.Element {
  const curve = curveOf(state);
  return (
    <div class="stack">
      <h3>The curve so far</h3>
      <CurvePlot state={state} curve={curve} />
      <p class="hint">Filled dots: needle going up. Open dots: going down. Line: fitted curve with its band.</p>
      {curve.kind === 'refused' ? <p class="soft">{curve.message}</p> : <CurveWords curve={curve} />}
      <ReadingsTable state={state} send={send} />
    </div>
  );
}

function CurveWords({ curve }: { readonly curve: DrawnCurve }): JSX.Element {
  return (
    <>
      <p>{curve.words}</p>
      {curve.warnings.length === 0 ? null : (
        <ul>
          {curve.warnings.map((warning) => (
            <li key={warning}>{warning}</li>
          ))}
        </ul>
      )}
    </>
  );
}

const LOG_RATIO = 5;

function CurvePlot({ state, curve }: { readonly state: JobState; readonly curve: ReturnType<typeof curveOf> }): JSX.Element | null {
  const counted = countedReadings(state);
  if (counted.length === 0) return <p class="soft">The curve draws itself here as readings come in.</p>;
  const dots = (leg: Reading['leg']): { x: number; y: number }[] =>
    counted
      .filter((reading) => reading.leg === leg)
      .map((reading) => ({ x: reading.resistanceOhm, y: reading.reading }));
  const ohms = counted.map((reading) => reading.resistanceOhm);
  const line = curve.kind === 'curve' ? curve : { line: [], high: [], low: [] };
  return (
    <Plot
      label={`Readings against resistance: ${counted.length} points. The table below holds the same figures.`}
      xLabel="resistance, ohm"
      yLabel={`reading, ${shownUnit(state.gauge.unit)}`}
      isXLog={Math.min(...ohms) > 0 && Math.max(...ohms) / Math.min(...ohms) > LOG_RATIO}
      series={[
        { label: 'upper edge', look: 'edge', points: line.high },
        { label: 'lower edge', look: 'edge', points: line.low },
        { label: 'curve', look: 'line', points: line.line },
        { label: 'going up', look: 'dots-up', points: dots('up') },
        { label: 'going down', look: 'dots-down', points: dots('down') },
      ]}
      band={[0, 1]}
      levels={state.gauge.marks.map((mark) => mark.reading)}
    />
  );
}

function ReadingsTable({ state, send }: CurveViewProps): JSX.Element {
  return (
    <div class="table-scroll">
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
            <th scope="col">By</th>
            <th scope="col">
              <span class="unseen">Strike or restore</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {state.readings.map((reading) => (
            <ReadingRow key={reading.readingId} reading={reading} state={state} send={send} />
          ))}
        </tbody>
      </table>
    </div>
  );
}

function ReadingRow(props: CurveViewProps & { readonly reading: Reading }): JSX.Element {
  const { reading, state, send } = props;
  const isStruck = reading.struckBecause !== undefined;
  const words = `${shownReading(reading.reading, state.gauge)} at ${shownOhm(reading.resistanceOhm)}`;
  return (
    <tr class={isStruck ? 'struck' : ''}>
      <td class="number">{shownOhm(reading.resistanceOhm)}</td>
      <td class="number">
        {shownReading(reading.reading, state.gauge)}
        {reading.atStop === undefined ? '' : ` (${reading.atStop} stop)`}
      </td>
      <td>{reading.leg}</td>
      <td>{reading.by}</td>
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
