import type { JSX } from 'preact';
import type { ClusterState } from '../../job/state/cluster-state';
import { neighboursOf } from '../../job/state/cluster-sheet';
import type { NeighbourCell } from '../../core/cluster';
import { NEIGHBOUR_WORDS, suspectWords, untestedWords } from '../../words/cluster';
import { printed } from '../../words/notation';
import { asSentence } from '../../words/sentence';
import { TableBox } from '../parts/table-box';
import { Verdict } from '../parts/verdict';

const SIGNS = { 'none-seen': 'good', small: 'good', 'too-large': 'bad', 'cannot-tell': 'doubt' } as const;

/** What each gauge does to each other one: moved from end to end on the left, watched at rest above. */
export function Neighbours({ state }: { readonly state: ClusterState }): JSX.Element {
  const found = neighboursOf(state);
  if (found === undefined) return <p>What the gauges do to each other: {untestedWords(printed)}.</p>;
  const { cells, verdict, suspect } = found;
  return (
    <div class="stack">
      <Verdict kind={SIGNS[verdict]}>
        {asSentence(NEIGHBOUR_WORDS[verdict])}
        {suspect === undefined ? '' : ` ${asSentence(suspectWords(suspect, printed))}`}
      </Verdict>
      <TableBox label="What the gauges do to each other">
        <table>
          <caption>
            Percent of the watched gauge&rsquo;s arc, {'\u00b1'} at 95 %, while the other goes from its least
            current to its most
          </caption>
          <thead>
            <tr>
              <th scope="col">Moved</th>
              {state.gauges.map(({ jobId, place }) => (
                <th key={jobId} scope="col" class="number">
                  {place}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {state.gauges.map(({ jobId: movedId, place }) => (
              <tr key={movedId}>
                <th scope="row">{place}</th>
                {state.gauges.map(({ jobId }) => (
                  <td key={jobId} class="number">
                    {jobId === movedId
                      ? '\u2013'
                      : cellWords(cells.find((each) => each.movedId === movedId && each.watchedId === jobId))}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </TableBox>
    </div>
  );
}

const COVERAGE = 2;
const cellWords = (cell: NeighbourCell | undefined): string =>
  cell === undefined
    ? 'not measured'
    : `${cell.percentOfArc.toFixed(2).replace('-', '\u2212')} \u00b1${(COVERAGE * cell.uPercent).toFixed(2)}`;
