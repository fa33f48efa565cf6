import type { JSX } from 'preact';
import { useId, useState } from 'preact/hooks';
import type { CommandOf } from '../../../job/commands';
import type { JobState } from '../../../job/state';
import { turnOf } from '../../../job/shown-unit';
import type { Desk } from '../../model/desk';
import { textOfFile } from '../../model/file-text';
import { pastedPoints, type Pasted, type PastedProblem } from '../../model/pasted-points';
import { sentence, shownOhm, shownUnit } from '../../model/words';
import { Note } from '../../parts/note';
import { TableBox } from '../../parts/table-box';
import { TextField } from '../../parts/text-field';

type ImportProps = { readonly sender: JobState['senders'][number]; readonly desk: Desk };
type Source = { readonly from: string; readonly source: CommandOf<'import-sender-points'>['source'] };

const PASTED: Source = { from: 'pasted table', source: 'datasheet' };

/** The text of a table, where it came from, and what becomes of it. */
function useTable({ sender, desk }: ImportProps) {
  const [text, setText] = useState('');
  const [origin, setOrigin] = useState(PASTED);
  const [trouble, setTrouble] = useState<string | undefined>(undefined);
  const pasted = pastedPoints(text);
  const readFile = async (file: File): Promise<void> => {
    const read = textOfFile(new Uint8Array(await file.arrayBuffer()));
    setTrouble(read.kind === 'refused' ? `${file.name}: ${read.message}` : undefined);
    if (read.kind === 'refused') return;
    setText(read.text);
    setOrigin({ from: file.name.slice(0, LONGEST_NAME), source: 'import' });
  };
  const type = (changed: string): void => {
    setText(changed);
    if (changed.trim() === '') setOrigin(PASTED);
  };
  const addAll = async (): Promise<void> => {
    const outcome = await desk.send({
      kind: 'import-sender-points',
      senderId: sender.senderId,
      ...origin,
      points: [...pasted.points],
      unit: unitFor(sender, pasted),
    });
    // Only what could not be read stays, to be mended where it stands.
    if (outcome.kind === 'accepted') setText(pasted.rest);
  };
  return { text, type, trouble, pasted, readFile, addAll };
}

/** A data sheet table or a spreadsheet column pair, pasted, picked or dropped; shown as understood before it is added. */
export function ImportTable({ sender, desk }: ImportProps): JSX.Element {
  const { text, type, trouble, pasted, readFile, addAll } = useTable({ sender, desk });
  return (
    <div
      class="stack"
      onDragOver={(event) => event.preventDefault()}
      onDrop={(event) => {
        event.preventDefault();
        const [file] = event.dataTransfer?.files ?? [];
        if (file !== undefined) void readFile(file);
      }}
    >
      <FilePick onFile={readFile} />
      {trouble === undefined ? null : (
        <Note kind="wrong">
          <p>{sentence(trouble)}</p>
        </Note>
      )}
      <TextField
        label={`or paste: value in ${shownUnit(sender.unit)} and ohms, one pair a line`}
        rows={6}
        text={text}
        onText={type}
        hint="From a spreadsheet, a data sheet, a notebook; a heading row may stay."
      />
      <Understood sender={sender} pasted={pasted} />
      <Problems problems={pasted.problems} />
      <div>
        <button
          type="button"
          class="button button-main"
          disabled={pasted.points.length === 0}
          onClick={() => void addAll()}
        >
          {addWords(pasted)}
        </button>
      </div>
    </div>
  );
}

const LONGEST_NAME = 150;

const addWords = ({ points, problems }: Pasted): string => {
  if (points.length === 0) return 'Add the points';
  const rest = problems.length === 0 ? '' : `, leave ${problems.length} to mend`;
  return `Add these ${points.length} points${rest}`;
};

/** The heading's unit counts when it can be turned into the sender's; a heading without one means the sender's own. */
const unitFor = (sender: ImportProps['sender'], { unit }: Pasted): string =>
  unit !== undefined && turnOf(unit, sender.unit) !== undefined ? unit : sender.unit;

function FilePick({ onFile }: { readonly onFile: (file: File) => Promise<void> }): JSX.Element {
  const id = useId();
  return (
    <div class="field drop">
      <label for={id}>A table from a file: CSV, TSV or text. Pick it, or drop it here.</label>
      <input
        id={id}
        type="file"
        accept=".csv,.tsv,.txt,.tab,.dat,text/*"
        onChange={(event) => {
          const [file] = event.currentTarget.files ?? [];
          if (file !== undefined) void onFile(file);
          // The same file, mended, can be picked again.
          event.currentTarget.value = '';
        }}
      />
    </div>
  );
}

function Understood({
  sender,
  pasted,
}: Pick<ImportProps, 'sender'> & { readonly pasted: Pasted }): JSX.Element | null {
  const { points, unit } = pasted;
  const [first] = points;
  const last = points.at(-1);
  if (first === undefined || last === undefined) return null;
  const used = unitFor(sender, pasted);
  return (
    <p class="hint figure">
      Understood: {points.length} points, from {first.value} {shownUnit(used)} ={' '}
      {shownOhm(first.resistanceOhm)} to {last.value} {shownUnit(used)} = {shownOhm(last.resistanceOhm)}.
      {used === sender.unit
        ? ''
        : ` The heading says ${shownUnit(used)}: turned into ${shownUnit(sender.unit)}.`}
      {unit !== undefined && unit !== used
        ? ` The heading says ${shownUnit(unit)}, which is no measure of this sender: taken as ${shownUnit(used)}.`
        : ''}
    </p>
  );
}

const MOST_SHOWN = 20;

function Problems({ problems }: { readonly problems: readonly PastedProblem[] }): JSX.Element | null {
  if (problems.length === 0) return null;
  return (
    <TableBox label="Rows that were not understood">
      <table>
        <caption>Not understood: {problems.length}. They stay in the field above; mend them there.</caption>
        <thead>
          <tr>
            <th scope="col">Row</th>
            <th scope="col">It says</th>
            <th scope="col">What to do</th>
          </tr>
        </thead>
        <tbody>
          {problems.slice(0, MOST_SHOWN).map((problem) => (
            <tr key={problem.row}>
              <td class="number">{problem.row}</td>
              <td>{problem.text.trim()}</td>
              <td class="wrong">
                {problem.column === undefined ? '' : `Column ${problem.column}: `}
                {problem.message}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {problems.length > MOST_SHOWN ? <p>and {problems.length - MOST_SHOWN} more.</p> : null}
    </TableBox>
  );
}
