import type { JSX } from 'preact';
import type { JobCommand } from '../../../job/schema/commands';
import type { JobState, Reading } from '../../../job/state/state';
import { shownOhm, shownReading } from '../../parts/words';
import { TableBox } from '../../parts/table-box';

type TableProps = {
  readonly state: JobState;
  readonly send: (command: JobCommand) => void;
};

/** What was read, in the order in which it was read; one of them is struck or restored here. */
export function ReadingsTable({ state, send }: TableProps): JSX.Element {
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
