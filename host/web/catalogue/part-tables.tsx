import type { JSX } from 'preact';
import type { ModelSpecimen, PartInCatalogue } from '../../job/wire/catalogue-messages';
import { boundHeading, cardState } from '../../words/catalogue';
import { dayWords } from '../parts/day-words';
import { Fold } from '../parts/fold';
import { TableBox } from '../parts/table-box';
import { shownOhm, shownSpread, shownUnit } from '../parts/words';
import type { Lettered } from '../../scene/part-question';

type TablesProps = { readonly part: PartInCatalogue; readonly specimens: readonly Lettered[] };

/** Every card of the model: what it is called, when it was measured, how well it is known, what was said of it. */
export const SpecimensTable = ({ part, specimens }: TablesProps): JSX.Element => (
  <TableBox label="Specimens">
    <table class="specimens">
      <thead>
        <tr>
          <th scope="col">Specimen</th>
          <th scope="col">Card</th>
          <th scope="col">Measured</th>
          <th scope="col">Readings</th>
          <th scope="col">Known to</th>
          <th scope="col">State</th>
        </tr>
      </thead>
      <tbody>
        {specimens.map(({ letter, specimen }) => (
          <tr key={specimen.id}>
            <th scope="row">
              <b>{letter}</b> {specimen.description ?? ''}
            </th>
            <td>{specimen.id}</td>
            <td>{specimen.measuredAt === undefined ? '' : dayWords(specimen.measuredAt, 0)}</td>
            <td class="number">{specimen.readings}</td>
            <td class="number">{knownWords(specimen, part)}</td>
            <td>{stateWords(specimen, specimens)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  </TableBox>
);

function knownWords({ knownTo }: ModelSpecimen, { part, unit, dial }: PartInCatalogue): string {
  if (knownTo === undefined) return '';
  return part === 'gauge'
    ? shownSpread(knownTo, { unit, marks: dial.marks })
    : `\u00b1${(100 * knownTo).toPrecision(2)} %`;
}

function stateWords(specimen: ModelSpecimen, all: readonly Lettered[]): string {
  const { found, isSimulated, isDemo, withdrawnBecause, supersededBy, refused, line } = specimen;
  const speaker = all.find((each) => each.specimen.id === specimen.sameAs);
  return [
    found ?? '',
    speaker === undefined ? '' : `another curve of ${speaker.letter}`,
    cardState({
      ...{ simulated: isSimulated, demo: isDemo, withdrawnBecause, supersededBy },
      search:
        refused !== undefined ? 'refused' : line.length === 0 && specimen.counts ? 'waiting' : 'columns',
    }),
    refused ?? '',
  ]
    .filter((words) => words !== '')
    .join('; ');
}

const NOT_YET = 'from 10 on';

/** What may be said of the next specimen, mark by mark: folded on the screen, whole on paper. */
export function MarksTable({ part }: { readonly part: PartInCatalogue }): JSX.Element | null {
  if (part.marks.length === 0) return null;
  const line = 'What the next one may do, mark by mark';
  return (
    <>
      <div class="screen-only">
        <Fold line={line} says="95 % of the next; from ten specimens on 95 % of all">
          <TableBox label="What the next one may do">
            <MarksGrid part={part} />
          </TableBox>
        </Fold>
      </div>
      <div class="print-only">
        <p>{line}</p>
        <MarksGrid part={part} />
      </div>
    </>
  );
}

function MarksGrid({ part }: { readonly part: PartInCatalogue }): JSX.Element {
  const { marks, dial, unit } = part;
  const isGauge = part.part === 'gauge';
  const told = (value: number): string =>
    isGauge ? String(Number(value.toPrecision(3))).replace('-', '\u2212') : shownOhm(value);
  const range = (each: { readonly from: number; readonly to: number } | undefined): string =>
    each === undefined ? NOT_YET : `${told(each.from)} to ${told(each.to)}`;
  const side = marks.find(({ bound }) => bound !== undefined)?.bound?.side;
  return (
    <table>
      <thead>
        <tr>
          <th scope="col">{isGauge ? 'Mark' : shownUnit(unit)}</th>
          <th scope="col">{'\u03a9'}</th>
          <th scope="col">Specimens there</th>
          <th scope="col">One standard deviation between them</th>
          <th scope="col">The next one, 95 %</th>
          <th scope="col">The next one at all marks at once, 95 %</th>
          <th scope="col">95 % of all, with 95 % confidence</th>
          {side === undefined ? null : <th scope="col">{boundHeading(side)}</th>}
        </tr>
      </thead>
      <tbody>
        {marks.map((mark) => (
          <tr key={`${mark.label} ${mark.at}`}>
            <th scope="row">{isGauge ? mark.label || told(mark.middle) : told(mark.at)}</th>
            <td class="number">{shownOhm(isGauge ? mark.at : mark.middle)}</td>
            <td class="number">{mark.specimens}</td>
            <td class="number">
              {isGauge ? shownSpread(mark.spread, { unit, marks: dial.marks }) : told(mark.spread)}
            </td>
            <td>{range(mark.next)}</td>
            <td>{range(mark.together)}</td>
            <td>{range(mark.tolerance)}</td>
            {side === undefined ? null : (
              <td class="number">{mark.bound === undefined ? NOT_YET : told(mark.bound.reading)}</td>
            )}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
