import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { Gauge, Mark } from '../../job/schema/gauge';
import { Choice } from '../parts/choice';
import { marksAlongArc, USUAL_ARC_DEGREES } from './dial-geometry';
import { MOST_MARKS, labelledMark, marksProblem, valuedMark, withMark } from './edit-marks';
import { CellNumber, CellText } from './cells';
import { removeGrip, type Grip } from './grips';
import { MarkPad } from './mark-pad';
import { MarkTable } from './mark-table';
import { ZoneTable } from './zone-table';

type DialEditorProps = { readonly gauge: Gauge; readonly onChange: (gauge: Gauge) => void };

const ARCS = [
  { value: '90', words: 'Quarter' },
  { value: '110', words: 'Third' },
  { value: '180', words: 'Half' },
  { value: '270', words: 'Three quarters' },
] as const;

/** The person's own dial: marks placed on the arc itself, or typed in the table; zones; how far round it goes. */
export function DialEditor({ gauge, onChange }: DialEditorProps): JSX.Element {
  const [chosen, setChosen] = useState<Grip | undefined>(undefined);
  const marks = marksAlongArc(gauge.marks);
  const inOrder = { ...gauge, marks: [...marks] };
  const problem = marksProblem(marks);
  const put = (changed: readonly Mark[]): void => onChange({ ...gauge, marks: [...changed] });
  const mark = chosen?.kind === 'mark' ? chosen.index : undefined;
  return (
    <div class="stack dial-editor">
      <MarkPad gauge={inOrder} chosen={chosen} onChoose={setChosen} onGauge={onChange} />
      <ChosenMark
        gauge={inOrder}
        index={mark}
        onMarks={put}
        onRemove={(grip) => {
          const left = removeGrip(inOrder, grip);
          onChange(left.gauge);
          setChosen(left.next);
        }}
      />
      {problem === undefined ? null : (
        <p class="wrong" role="alert">
          {problem}
        </p>
      )}
      <Choice
        label="How far round does the scale go?"
        options={ARCS}
        chosen={arcChosen(gauge.arcDegrees ?? USUAL_ARC_DEGREES)}
        onChoose={(arc) => onChange({ ...gauge, arcDegrees: Number(arc) })}
      />
      <MarkTable marks={marks} unit={gauge.unit} onMarks={put} chosen={mark} />
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
      <ZoneTable gauge={gauge} onZones={(zones) => onChange({ ...gauge, zones })} />
    </div>
  );
}

const arcChosen = (degrees: number): (typeof ARCS)[number]['value'] =>
  ARCS.find((arc) => Number(arc.value) >= degrees)?.value ?? '270';

type ChosenMarkProps = {
  readonly gauge: Gauge;
  readonly index: number | undefined;
  readonly onMarks: (marks: readonly Mark[]) => void;
  readonly onRemove: (grip: Grip) => void;
};

/** Beside the arc: what is printed at the mark in hand and what it stands for. */
function ChosenMark({ gauge, index, onMarks, onRemove }: ChosenMarkProps): JSX.Element {
  const mark = index === undefined ? undefined : gauge.marks[index];
  if (mark === undefined || index === undefined) {
    return (
      <p class="hint">Tap the arc to add a mark; drag a mark to where it stands. Zones have handles too.</p>
    );
  }
  return (
    <div class="chosen-mark" key={index}>
      <span class="label">Printed</span>
      <CellText
        name="Printed at the chosen mark"
        value={mark.label}
        onValue={(label) => onMarks(labelledMark(gauge.marks, index, label))}
      />
      <span class="label">stands for</span>
      <CellNumber
        name="The chosen mark stands for"
        value={mark.reading}
        onValue={(reading) => onMarks(valuedMark(gauge.marks, index, reading))}
      />
      <button
        type="button"
        class="button"
        disabled={gauge.marks.length <= 2}
        onClick={() => onRemove({ kind: 'mark', index })}
      >
        Take away
      </button>
    </div>
  );
}
