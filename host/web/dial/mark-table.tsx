import type { JSX } from 'preact';
import type { Mark } from '../../job/schema/gauge';
import { shownUnit } from '../parts/words';
import { TableBox } from '../parts/table-box';
import { CellNumber, CellText } from './cells';
import { canLose, editMark, labelledMark, valuedMark, withoutMark } from './edit-marks';

type MarkTableProps = {
  readonly marks: readonly Mark[];
  readonly unit: string;
  readonly onMarks: (marks: Mark[]) => void;
  /** The mark that is chosen on the arc. */
  readonly chosen: number | undefined;
};

/** The marks as figures: the equal of the arc for whoever would rather type. */
export function MarkTable({ marks, unit, onMarks, chosen }: MarkTableProps): JSX.Element {
  return (
    <TableBox label="Table of marks">
      <table>
        <caption>Marks, low end first</caption>
        <thead>
          <tr>
            <th scope="col">Printed</th>
            <th scope="col">Stands for, {shownUnit(unit)}</th>
            <th scope="col">Place on the arc, %</th>
            <th scope="col">
              <span class="unseen">Take away</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {marks.map((mark, index) => (
            <MarkRow
              key={index}
              mark={mark}
              number={index + 1}
              isChosen={index === chosen}
              onLabel={(label) => onMarks(labelledMark(marks, index, label))}
              onReading={(reading) => onMarks(valuedMark(marks, index, reading))}
              onPlace={(angleFraction) => onMarks(editMark(marks, index, { angleFraction }))}
              onRemove={canLose(marks) ? () => onMarks(withoutMark(marks, index)) : undefined}
            />
          ))}
        </tbody>
      </table>
    </TableBox>
  );
}

type MarkRowProps = {
  readonly mark: Mark;
  readonly number: number;
  readonly isChosen: boolean;
  readonly onLabel: (label: string) => void;
  readonly onReading: (reading: number) => void;
  readonly onPlace: (angleFraction: number) => void;
  readonly onRemove: (() => void) | undefined;
};

function MarkRow(props: MarkRowProps): JSX.Element {
  const { mark, number, onRemove } = props;
  return (
    <tr aria-current={props.isChosen ? 'true' : undefined}>
      <td>
        <CellText name={`Printed at mark ${number}`} value={mark.label} onValue={props.onLabel} />
      </td>
      <td>
        <CellNumber name={`Mark ${number} stands for`} value={mark.reading} onValue={props.onReading} />
      </td>
      <td>
        <CellNumber
          name={`Place of mark ${number} on the arc, percent`}
          value={Math.round(1000 * mark.angleFraction) / 10}
          onValue={(percent) => props.onPlace(percent / 100)}
        />
      </td>
      <td>
        <button
          type="button"
          class="button button-plain"
          aria-label={`Take away mark ${number}, ${mark.label}`}
          disabled={onRemove === undefined}
          onClick={onRemove}
        >
          {'\u2715'}
        </button>
      </td>
    </tr>
  );
}
