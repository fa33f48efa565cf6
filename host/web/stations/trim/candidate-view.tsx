import type { JSX } from 'preact';
import type { Candidate } from '../../../core/network';
import type { JobCommand } from '../../../job/schema/commands';
import type { LinePoint } from '../../../job/findings';
import type { Gauge } from '../../../job/schema/gauge';
import { scaleOf } from '../../../job/schema/scale';
import type { TrimCandidate } from '../../../job/schema/trim';
import {
  assumedWords,
  hiddenWords,
  needleWords,
  placeWords,
  surroundingsWords,
  topologyWords,
  wiringWords,
} from '../../../words/network';
import { printed } from '../../../words/notation';
import { saidRemark } from '../../../words/remark';
import { capital } from '../../../words/sentence';
import { shownUnit, shownError, shownPart, shownPlace, shownReading, shownSpread } from '../../parts/words';
import { Note } from '../../parts/note';
import { toleranceSeries } from '../../plot/tolerance-series';
import { Plot } from '../../plot/plot';
import { WiringSketch } from './wiring-sketch';
import { TableBox } from '../../parts/table-box';

type CandidateProps = {
  readonly gauge: Gauge;
  readonly candidate: Candidate;
  readonly before: readonly LinePoint[];
  /** Errors with senders at the ends of their stated tolerance. */
  readonly tolerance?: readonly LinePoint[] | undefined;
  readonly tolerancePercent?: number | undefined;
  readonly chosen: TrimCandidate | undefined;
  /** No network meets what was asked; this one is only the nearest. */
  readonly isOnlyNearest?: boolean;
  readonly send: (command: JobCommand) => void;
  readonly goOn: () => void;
};

/** What goes on the sheet when a network is chosen. */
const chosenFrom = (candidate: Candidate): TrimCandidate => ({
  topology: candidate.topology,
  parts: candidate.parts.map((part) => ({
    place: part.place,
    resistanceOhm: part.resistanceOhm,
    tolerancePercent: part.tolerancePercent,
    powerWatt: part.powerWorstWatt,
    ...(part.ratingWatt === undefined ? {} : { ratingWatt: part.ratingWatt }),
  })),
  worstError: candidate.worstError,
  rmsError: candidate.rmsError,
});

/** The same parts in the same places; its error may have been turned into another unit since. */
const isSameNetwork = (one: TrimCandidate, other: TrimCandidate): boolean =>
  one.topology === other.topology && JSON.stringify(one.parts) === JSON.stringify(other.parts);

/** Everything one should know of a network before soldering it. */
export function CandidateView(props: CandidateProps): JSX.Element {
  const { gauge, candidate, chosen, send, goOn } = props;
  const isChosen = chosen !== undefined && isSameNetwork(chosen, chosenFrom(candidate));
  return (
    <div class="stack">
      <h3>
        {capital(topologyWords[candidate.topology])}: worst error {shownSpread(candidate.worstError, gauge)}{' '}
        at {shownReading(candidate.worstAt, gauge)}
      </h3>
      <ErrorPlot {...props} />
      {candidate.warnings.map((warning) => (
        <Note key={JSON.stringify(warning)} kind="caution">
          <p>{saidRemark(warning, printed)}</p>
        </Note>
      ))}
      {isChosen ? (
        <Note kind="good" word="Chosen">
          <p>This network is chosen. Build it, measure it, fit it, then prove it in the vehicle.</p>
          <div>
            <button type="button" class="button button-main" onClick={goOn}>
              On to the proof
            </button>
          </div>
        </Note>
      ) : (
        <div>
          <button
            type="button"
            class={props.isOnlyNearest === true ? 'button' : 'button button-main'}
            onClick={() => send({ kind: 'choose-trim', candidate: chosenFrom(candidate) })}
          >
            {props.isOnlyNearest === true ? 'Choose it all the same' : 'Choose this network'}
          </button>
        </div>
      )}
      <div class="columns">
        <div class="stack">
          <WiringSketch candidate={candidate} />
          <p>{wiringWords[candidate.topology]}</p>
        </div>
        <div class="stack">
          <PartsTable candidate={candidate} />
          <p class="hint">
            Watts at {candidate.powerBasis.highestSupplyVolt} V, {candidate.powerBasis.ambientCelsius}{' '}
            {'\u00b0'}C at the {candidate.powerBasis.place}
            {candidate.powerBasis.assumed.length === 0
              ? ''
              : `; assumed: ${assumedWords(candidate.powerBasis, printed).join(', ')}`}
            . Mount it at the dash end, labelled
            {gauge.quantity === 'fuel' ? ', never in or near the tank' : ''}.
          </p>
        </div>
      </div>
      <ErrorTable gauge={gauge} candidate={candidate} />
      <FailureTable gauge={gauge} candidate={candidate} />
      <Spread gauge={gauge} candidate={candidate} />
    </div>
  );
}

const worstOf = (band: readonly LinePoint[]): number =>
  Math.max(0, ...band.flatMap(({ low, high }) => [Math.abs(low), Math.abs(high)]));

function ErrorPlot({ gauge, candidate, before, tolerance, tolerancePercent }: CandidateProps): JSX.Element {
  const after = candidate.errorTable.map((row) => ({
    x: row.trueValue,
    y: row.error,
    half: row.expandedUncertainty,
  }));
  return (
    <figure class="stack">
      <Plot
        label={`Error of the needle before and after the network; worst after: ${candidate.worstError.toPrecision(3)} ${gauge.unit}. The table below holds the figures.`}
        xLabel={`true value, ${shownUnit(gauge.unit)}`}
        yLabel={`error, ${shownUnit(gauge.unit)}`}
        heightPixel={240}
        levels={[0]}
        band={[0, 1]}
        series={[
          { label: 'upper edge', look: 'edge', points: after.map(({ x, y, half }) => ({ x, y: y + half })) },
          { label: 'lower edge', look: 'edge', points: after.map(({ x, y, half }) => ({ x, y: y - half })) },
          { label: 'before', look: 'line-dashed', points: before },
          { label: 'after', look: 'line', points: after },
          ...toleranceSeries(tolerance),
        ]}
      />
      <figcaption class="hint">
        Dashed: before. Line with its 95 % band: after. Dotted: no error.
        {tolerance === undefined || tolerancePercent === undefined
          ? ''
          : ` Dash-dotted pair: senders at \u00b1${tolerancePercent} %, as their maker states; the worst of them ${shownSpread(worstOf(tolerance), gauge)}.`}
      </figcaption>
    </figure>
  );
}

function PartsTable({ candidate }: { readonly candidate: Candidate }): JSX.Element {
  if (candidate.parts.length === 0) return <p>No parts: leave it as it is.</p>;
  return (
    <TableBox label="Parts to buy">
      <table>
        <caption>Parts to buy</caption>
        <thead>
          <tr>
            <th scope="col">Where</th>
            <th scope="col" class="number">
              Value
            </th>
            <th scope="col" class="number">
              Rating
            </th>
            <th scope="col" class="number">
              Worst
            </th>
          </tr>
        </thead>
        <tbody>
          {candidate.parts.map((part) => (
            <tr key={part.place}>
              <td>{placeWords[part.place]}</td>
              <td class="number">
                {shownPart(part.resistanceOhm)}, {part.tolerancePercent} %
              </td>
              <td class="number">
                {part.ratingWatt === undefined ? 'none carries it' : `${part.ratingWatt} W`}
              </td>
              <td class="number">{part.powerWorstWatt.toFixed(2)} W</td>
            </tr>
          ))}
        </tbody>
      </table>
    </TableBox>
  );
}

/** Off its scale a needle errs by at least what is left of the scale. */
const offScaleError = (
  { trueValue, indicated, error }: Candidate['errorTable'][number],
  gauge: Gauge,
): string => {
  const { lowest, highest } = scaleOf(gauge.marks);
  const end = Math.min(highest, Math.max(lowest, indicated));
  return shownPlace(indicated, gauge) === shownReading(indicated, gauge)
    ? shownError(error, gauge)
    : `${shownError(end - trueValue, gauge)} or more`;
};

type ShownCandidate = Pick<CandidateProps, 'gauge' | 'candidate'>;

function ErrorTable({ gauge, candidate }: ShownCandidate): JSX.Element {
  return (
    <details>
      <summary>Error table</summary>
      <TableBox label="Error table">
        <table>
          <thead>
            <tr>
              {['True', 'Needle shows', 'Error', '\u00b1 (95 %)'].map((heading) => (
                <th key={heading} scope="col" class="number">
                  {heading}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {candidate.errorTable.map((row) => (
              <tr key={row.trueValue}>
                <td class="number">{shownReading(row.trueValue, gauge)}</td>
                <td class="number">{shownPlace(row.indicated, gauge)}</td>
                <td class="number">{offScaleError(row, gauge)}</td>
                <td class="number">{shownSpread(row.expandedUncertainty, gauge)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </TableBox>
    </details>
  );
}

function FailureTable({ gauge, candidate }: ShownCandidate): JSX.Element | null {
  if (candidate.failures.length === 0) return null;
  return (
    <TableBox label="Failure table">
      <table>
        <caption>If a part fails</caption>
        <tbody>
          {candidate.failures.map((failure) => (
            <tr key={`${failure.place} ${failure.fails}`}>
              <th scope="row">
                {shownPart(failure.resistanceOhm)} {failure.fails}
              </th>
              <td>
                The needle {needleWords(failure.needle, gauge.unit, printed)}.
                {failure.hides === undefined ? null : (
                  <strong> Danger: it {hiddenWords[failure.hides]}.</strong>
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </TableBox>
  );
}

function Spread({ gauge, candidate }: ShownCandidate): JSX.Element {
  const { monteCarlo } = candidate.tolerance;
  return (
    <ul>
      <li>
        With parts as they come, 95 % of such networks stay within{' '}
        {shownSpread(monteCarlo.worstErrorOf95Percent, gauge)}.
      </li>
      {candidate.replacements.map((each) => (
        <li key={each.changePercent}>
          If the next sender is {each.changePercent > 0 ? '+' : '\u2212'}
          {Math.abs(each.changePercent)} %: worst error {shownSpread(each.worstError, gauge)}.
        </li>
      ))}
      {candidate.surroundings.map((each) => (
        <li key={surroundingsWords(each.with, printed)}>
          {capital(surroundingsWords(each.with, printed))}: shifts by up to{' '}
          {shownError(each.largestShift, gauge)}.
        </li>
      ))}
    </ul>
  );
}
