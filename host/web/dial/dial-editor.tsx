import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import { typedNumber } from '../../core/typed-number';
import type { Gauge, Mark } from '../../job/gauge';
import { Choice } from '../parts/choice';
import { NumberField, useNumberDraft } from '../parts/number-field';
import { editMark, MOST_MARKS, withMark, withoutMark, marksProblem } from './edit-marks';
import { marksAlongArc, USUAL_ARC_DEGREES } from './dial-geometry';
import { TableBox } from '../parts/table-box';

type DialEditorProps = { readonly gauge: Gauge; readonly onChange: (gauge: Gauge) => void };

const ARCS = [
  { value: '90', words: 'Quarter' },
  { value: '110', words: 'Third' },
  { value: '180', words: 'Half' },
  { value: '270', words: 'Three quarters' },
] as const;

/** The person's own marks: what is printed, what it stands for, where it sits on the arc. */
export function DialEditor({ gauge, onChange }: DialEditorProps): JSX.Element {
  const marks = marksAlongArc(gauge.marks);
  const problem = marksProblem(marks);
  const put = (changed: readonly Mark[]): void => onChange({ ...gauge, marks: [...changed] });
  return (
    <div class="stack">
      <Choice
        label="How far round does the scale go?"
        options={ARCS}
        chosen={arcChosen(gauge.arcDegrees ?? USUAL_ARC_DEGREES)}
        onChoose={(arc) => onChange({ ...gauge, arcDegrees: Number(arc) })}
      />
      <TableBox label="Table of marks">
        <table>
          <caption>Marks, low end first</caption>
          <thead>
            <tr>
              <th scope="col">Printed</th>
              <th scope="col">Stands for</th>
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
                onEdit={(part) => put(editMark(marks, index, part))}
                onRemove={marks.length > 2 ? () => put(withoutMark(marks, index)) : undefined}
              />
            ))}
          </tbody>
        </table>
      </TableBox>
      {problem === undefined ? null : (
        <p class="wrong" role="alert">
          {problem}
        </p>
      )}
      <div class="row">
        <button
          type="button"
          class="button"
          disabled={marks.length >= MOST_MARKS}
          onClick={() => put(withMark(marks))}
        >
          Add a mark
        </button>
      </div>
      <RedZone gauge={gauge} onChange={onChange} />
    </div>
  );
}

const arcChosen = (degrees: number): (typeof ARCS)[number]['value'] =>
  ARCS.find((arc) => Number(arc.value) >= degrees)?.value ?? '270';

type MarkRowProps = {
  readonly mark: Mark;
  readonly number: number;
  readonly onEdit: (part: Partial<Mark>) => void;
  readonly onRemove: (() => void) | undefined;
};

function MarkRow({ mark, number, onEdit, onRemove }: MarkRowProps): JSX.Element {
  return (
    <tr>
      <td>
        <input
          class="bare"
          aria-label={`Printed at mark ${number}`}
          value={mark.label}
          maxLength={20}
          onChange={(event) => onEdit({ label: event.currentTarget.value.trim() || mark.label })}
        />
      </td>
      <td>
        <CellNumber
          name={`Mark ${number} stands for`}
          value={mark.reading}
          onValue={(reading) => onEdit({ reading })}
        />
      </td>
      <td>
        <CellNumber
          name={`Place of mark ${number} on the arc, percent`}
          value={Math.round(1000 * mark.angleFraction) / 10}
          onValue={(percent) => onEdit({ angleFraction: percent / 100 })}
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

type CellProps = { readonly name: string; readonly value: number; readonly onValue: (value: number) => void };

/** Keeps what was typed until it is a number; then the dial beside it follows. */
function CellNumber({ name, value, onValue }: CellProps): JSX.Element {
  const [typed, setTyped] = useState<string | undefined>(undefined);
  const isWrong = typed !== undefined && typedNumber(typed).kind === 'refused';
  return (
    <input
      class="bare"
      inputMode="decimal"
      aria-label={name}
      aria-invalid={isWrong ? 'true' : undefined}
      value={typed ?? String(value)}
      onInput={(event) => {
        const text = event.currentTarget.value;
        setTyped(text);
        const result = typedNumber(text);
        if (result.kind === 'number') onValue(result.value);
      }}
      onBlur={() => {
        if (!isWrong) setTyped(undefined);
      }}
    />
  );
}

function RedZone({ gauge, onChange }: DialEditorProps): JSX.Element {
  const from = useNumberDraft();
  const to = useNumberDraft();
  const add = (): void => {
    if (from.value === undefined || to.value === undefined) return;
    const zone = { fromReading: from.value, toReading: to.value, meaning: 'danger' as const };
    onChange({ ...gauge, zones: [...(gauge.zones ?? []), zone] });
    from.setText('');
    to.setText('');
  };
  return (
    <fieldset>
      <legend>Red zone</legend>
      <div class="fields">
        <NumberField label="From" draft={from} onEnter={add} />
        <NumberField label="To" draft={to} onEnter={add} />
      </div>
      <div class="row">
        <button type="button" class="button" onClick={add}>
          Add the zone
        </button>
        <button type="button" class="button button-plain" onClick={() => onChange({ ...gauge, zones: [] })}>
          No zones
        </button>
      </div>
    </fieldset>
  );
}
