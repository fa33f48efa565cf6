import type { ComponentChildren, JSX } from 'preact';
import type { Candidate } from '../../../core/network';
import { scaleOf } from '../../../job/schema/scale';
import type { Gauge } from '../../../job/schema/gauge';
import {
  assumedWords,
  circuitWords,
  hiddenWords,
  needleWords,
  placeWords,
  surroundingsWords,
  topologyWords,
} from '../../../words/network';
import { printed } from '../../../words/notation';
import { capital } from '../../../words/sentence';
import { partsSum } from '../../../words/trim-answer';
import { TableBox } from '../../parts/table-box';
import { shownError, shownPart, shownPlace, shownReading, shownSpread } from '../../parts/words';

type Shown = { readonly gauge: Gauge; readonly candidate: Candidate };

/** What to buy: each part with its watts, and what those were reckoned for. */
export function PartLines({ gauge, candidate }: Shown): JSX.Element {
  const { parts, powerBasis: basis } = candidate;
  if (parts.length === 0) return <p>No parts: leave it as it is.</p>;
  return (
    <div class="part-lines">
      {parts.map((part) => (
        <p key={part.place}>
          <b>{shownPart(part.resistanceOhm)}</b> {placeWords[part.place]}, metal film, {part.tolerancePercent}{' '}
          %, {part.ratingWatt === undefined ? 'and no ordinary rating carries it' : `${part.ratingWatt} W`}{' '}
          <small>
            {part.powerWorstWatt.toFixed(2)} W at the worst: {circuitWords(part.powerWorstWhen, printed)}
          </small>
        </p>
      ))}
      <small>
        Watts at {basis.highestSupplyVolt} V, {basis.ambientCelsius} {'\u00b0'}C at the {basis.place}
        {basis.assumed.length === 0 ? '' : `; assumed: ${assumedWords(basis, printed).join(', ')}`}. Mount it
        at the dash end, labelled{gauge.quantity === 'fuel' ? ', never in or near the tank' : ''}.
      </small>
    </div>
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

export function ErrorTable({ gauge, candidate }: Shown): JSX.Element {
  return (
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
  );
}

/** What the driver sees when a part opens or shorts; what that hides stands out. */
export function FailureTable({ gauge, candidate }: Shown): JSX.Element | null {
  if (candidate.failures.length === 0) return null;
  return (
    <section class="stack">
      <h4>{candidate.parts.length === 1 ? 'If the part fails' : 'If a part fails'}</h4>
      <TableBox label="Failure table">
        <table>
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
    </section>
  );
}

const Row = (props: { readonly head: string; readonly children: ComponentChildren }): JSX.Element => (
  <tr>
    <th scope="row">{props.head}</th>
    <td class="number">{props.children}</td>
  </tr>
);

/** The same network with other parts, another sender, another dash, another battery. */
export function WhatIfTable({ gauge, candidate }: Shown): JSX.Element {
  const { monteCarlo } = candidate.tolerance;
  return (
    <TableBox label="What if">
      <table>
        <tbody>
          <Row head="Parts as they come, 95 % of such networks">
            within {shownSpread(monteCarlo.worstErrorOf95Percent, gauge)}
          </Row>
          {candidate.replacements.map((each) => (
            <Row
              key={each.changePercent}
              head={`The next sender ${Math.abs(each.changePercent)} % ${each.changePercent > 0 ? 'higher' : 'lower'}`}
            >
              worst error {shownSpread(each.worstError, gauge)}
            </Row>
          ))}
          {candidate.surroundings.map((each) => (
            <Row
              key={surroundingsWords(each.with, printed)}
              head={capital(surroundingsWords(each.with, printed))}
            >
              shifts by up to {shownError(each.largestShift, gauge)}
            </Row>
          ))}
        </tbody>
      </table>
    </TableBox>
  );
}

type ListProps = {
  readonly gauge: Gauge;
  readonly candidates: readonly Candidate[];
  readonly recommended: number;
  readonly shown: number;
  readonly onShow: (index: number) => void;
};

/** The networks found, best first: each can be looked at. */
export function NetworkList({ gauge, candidates, recommended, shown, onShow }: ListProps): JSX.Element {
  return (
    <TableBox label="Table of networks">
      <table>
        <thead>
          <tr>
            <th scope="col">
              <span class="unseen">Look at it</span>
            </th>
            <th scope="col">Network, best first</th>
            <th scope="col">Parts</th>
            <th scope="col" class="number">
              Worst error
            </th>
          </tr>
        </thead>
        <tbody>
          {candidates.map((candidate, index) => (
            <tr
              key={`${candidate.topology} ${partsSum(candidate, printed)}`}
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
                    at {topologyWords[candidate.topology]} {partsSum(candidate, printed)}
                  </span>
                </button>
              </td>
              <td>
                {topologyWords[candidate.topology]}
                {index === recommended ? <strong> (recommended)</strong> : null}
                {candidate.keepsRule ? null : ' (breaks the rule)'}
              </td>
              <td>{partsSum(candidate, printed) || '\u2014'}</td>
              <td class="number">{shownSpread(candidate.worstError, gauge)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </TableBox>
  );
}
