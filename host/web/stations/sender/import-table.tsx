import type { JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { AS_WRITTEN, type SaidUnits } from '../../../core/text/columns';
import { MOST_TABLE_BYTES, textOfFile } from '../../../core/text/file-text';
import { senderTable, type SenderTable, type SenderTableProblem } from '../../../core/text/sender-table';
import { unitSymbol } from '../../../core/units';
import type { CommandOf } from '../../../job/schema/commands';
import type { JobState } from '../../../job/state/state';
import type { JobConnection } from '../../connection/job-connection';
import { shownOhm, shownUnit } from '../../parts/words';
import { FilePick } from '../../parts/file-pick';
import { Note } from '../../parts/note';
import { TableBox } from '../../parts/table-box';
import { TextField } from '../../parts/text-field';
import { asSentence } from '../../../words/sentence';
import { plateIf } from '../../parts/plate';

type ImportProps = { readonly sender: JobState['senders'][number]; readonly job: JobConnection };
type TableProps = ImportProps & {
  readonly isPlate: boolean;
  /** Told whether there is something to be added. */
  readonly onTyping: (isTyping: boolean) => void;
};
type Source = { readonly from: string; readonly source: CommandOf<'import-sender-points'>['source'] };

/** As many as one command carries. */
const MOST_AT_ONCE = 500;
const PASTED: Source = { from: 'pasted table', source: 'datasheet' };

/** The text of a table, where it came from, and what becomes of it. */
function useTable({ sender, job }: ImportProps) {
  const [text, setText] = useState('');
  const [origin, setOrigin] = useState(PASTED);
  const [trouble, setTrouble] = useState<string | undefined>(undefined);
  const [said, setSaid] = useState<SaidUnits>({});
  const read =
    text.trim() === '' ? undefined : senderTable(text, { unit: sender.unit, said, headless: true });
  const readFile = async (file: File): Promise<void> => {
    const content = textOfFile(new Uint8Array(await file.arrayBuffer()), TextDecoder, MOST_TABLE_BYTES);
    setTrouble(content.kind === 'refused' ? `${file.name}: ${content.message}` : undefined);
    if (content.kind === 'refused') return;
    setText(content.text);
    setSaid({});
    setOrigin({ from: file.name.slice(0, LONGEST_NAME), source: 'import' });
  };
  const type = (changed: string): void => {
    setText(changed);
    setSaid({});
    if (changed.trim() === '') setOrigin(PASTED);
  };
  const addAll = async ({ points, unit = sender.unit, rest }: SenderTable): Promise<void> => {
    const all = points.map(({ row, value, resistanceOhm }) => ({ row, value, resistanceOhm }));
    for (let from = 0; from < all.length; from += MOST_AT_ONCE) {
      const outcome = await job.send({
        kind: 'import-sender-points',
        senderId: sender.senderId,
        ...origin,
        points: all.slice(from, from + MOST_AT_ONCE),
        unit,
      });
      if (outcome.kind !== 'accepted') return;
    }
    // Only what could not be read stays, to be mended where it stands.
    setText(rest);
  };
  return { text, type, trouble, read, said, setSaid, readFile, addAll };
}

/** A data sheet table or a spreadsheet column pair, pasted, picked or dropped; shown as understood before it is added. */
export function ImportTable({ sender, job, isPlate, onTyping }: TableProps): JSX.Element {
  const { text, type, trouble, read, said, setSaid, readFile, addAll } = useTable({ sender, job });
  const table = read?.kind === 'sender-table' ? read : undefined;
  useEffect(() => onTyping(text.trim() !== ''), [text]);
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
          <p>{asSentence(trouble)}</p>
        </Note>
      )}
      <TextField
        label={`or paste: value in ${shownUnit(sender.unit)} and ohms, one pair a line`}
        rows={5}
        text={text}
        onText={type}
        hint="From a spreadsheet, a data sheet, a notebook; a heading row may stay."
      />
      {read === undefined || read.kind === 'sender-table' ? null : (
        <WholeTable problem={read} answer={(given) => setSaid({ ...said, ...given })} />
      )}
      <div>
        <button
          type="button"
          class={plateIf(isPlate)}
          disabled={table === undefined || table.points.length === 0}
          onClick={() => (table === undefined ? undefined : void addAll(table))}
        >
          {addWords(table)}
        </button>
      </div>
      <Problems problems={table?.problems ?? []} />
      {table === undefined ? null : <Understood sender={sender} table={table} />}
    </div>
  );
}

const LONGEST_NAME = 150;

const addWords = (table: SenderTable | undefined): string => {
  if (table === undefined || table.points.length === 0) return 'Add the points';
  const { points, problems } = table;
  const rest = problems.length === 0 ? '' : `, leave ${problems.length} to mend`;
  return `Add these ${points.length} points${rest}`;
};

type WholeProps = {
  readonly problem: Exclude<ReturnType<typeof senderTable>, SenderTable>;
  readonly answer: (said: SaidUnits) => void;
};

/** What keeps the whole table from being taken; where a person's word settles it, that is asked. */
function WholeTable({ problem, answer }: WholeProps): JSX.Element {
  const ask = problem.kind === 'problem' ? problem.ask : undefined;
  const column = problem.kind === 'problem' ? problem.column : undefined;
  const place = [
    ...(problem.row === undefined || problem.row === 0 ? [] : [`row ${problem.row}`]),
    ...(column === undefined ? [] : [`column \u201c${column}\u201d`]),
  ].join(', ');
  return (
    <Note kind="wrong">
      <p>{asSentence(place === '' ? problem.message : `${place}: ${problem.message}`)}</p>
      {ask === undefined ? null : (
        <p class="actions">
          {ask.units.map((unit) => (
            <button key={unit} type="button" class="button" onClick={() => answer({ [ask.stem]: unit })}>
              {answerWords(unit)}
            </button>
          ))}
        </p>
      )}
    </Note>
  );
}

const answerWords = (unit: string): string =>
  unit === AS_WRITTEN
    ? 'Take each cell in the unit it says'
    : `All of it is in ${OHM_WORDS[unit] ?? unitSymbol(unit)}`;

const OHM_WORDS: Readonly<Record<string, string>> = { ohm: '\u03a9', kohm: 'k\u03a9', Mohm: 'M\u03a9' };

type UnderstoodProps = Pick<ImportProps, 'sender'> & { readonly table: SenderTable };

function Understood({ sender, table }: UnderstoodProps): JSX.Element | null {
  const { points, unit = sender.unit, writtenUnit, warnings } = table;
  const [first] = points;
  const last = points.at(-1);
  if (first === undefined || last === undefined) return null;
  const turned = writtenUnit ?? unit;
  return (
    <p class="hint figure">
      Understood: {points.length} points, from {first.value} {shownUnit(unit)} ={' '}
      {shownOhm(first.resistanceOhm)} to {last.value} {shownUnit(unit)} = {shownOhm(last.resistanceOhm)}.
      {turned === sender.unit
        ? ''
        : ` The table says ${shownUnit(turned)}: turned into ${shownUnit(sender.unit)}.`}
      {warnings.map((warning) => ` ${asSentence(warning)}`).join('')}
    </p>
  );
}

const MOST_SHOWN = 20;

function Problems({ problems }: { readonly problems: readonly SenderTableProblem[] }): JSX.Element | null {
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
                {problem.column === undefined ? '' : `${problem.column}: `}
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
