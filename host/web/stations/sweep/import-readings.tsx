import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import { MOST_TABLE_BYTES, textOfFile } from '../../../core/text/file-text';
import { gaugeTable, type GaugeTable } from '../../../core/text/gauge-table';
import type { CommandOf } from '../../../job/schema/commands';
import type { JobState } from '../../../job/state/state';
import { asSentence } from '../../../words/sentence';
import type { JobConnection } from '../../connection/job-connection';
import { FilePick } from '../../parts/file-pick';
import { Note } from '../../parts/note';
import { TextField } from '../../parts/text-field';
import { shownOhm, shownUnit } from '../../parts/words';

const LONGEST_NAME = 150;
const PASTED = 'pasted table';

type Rows = CommandOf<'import-readings'>['readings'];

/** What a row does not say is left out of the command. */
const rowsOf = ({ rows }: GaugeTable): Rows =>
  rows.map((row) => ({
    row: row.row,
    resistanceOhm: row.resistanceOhm,
    reading: row.reading,
    ...(row.leg === undefined ? {} : { leg: row.leg }),
    ...(row.atStop === undefined ? {} : { atStop: row.atStop }),
    ...(row.readingUncertainty === undefined ? {} : { readingUncertainty: row.readingUncertainty }),
    ...(row.resistanceUncertaintyOhm === undefined
      ? {}
      : { resistanceUncertaintyOhm: row.resistanceUncertaintyOhm }),
    ...(row.supplyVolt === undefined ? {} : { supplyVolt: row.supplyVolt }),
    ...(row.supplyAt === undefined ? {} : { supplyAt: row.supplyAt }),
  }));

type ImportProps = { readonly state: JobState; readonly job: JobConnection };

/** The text of a table, where it came from, which meter, and what is wrong with it. */
function useReadings({ state, job }: ImportProps) {
  const [text, setText] = useState('');
  const [from, setFrom] = useState(PASTED);
  const [meter, setMeter] = useState('');
  const [trouble, setTrouble] = useState<string | undefined>(undefined);
  const read = text.trim() === '' ? undefined : gaugeTable(text, { unit: state.gauge.unit });
  const table = read?.kind === 'gauge-table' ? read : undefined;
  const wrong =
    trouble ?? (read === undefined || read.kind === 'gauge-table' ? undefined : problemWords(read));
  const readFile = async (file: File): Promise<void> => {
    const content = textOfFile(new Uint8Array(await file.arrayBuffer()), TextDecoder, MOST_TABLE_BYTES);
    setTrouble(content.kind === 'refused' ? `${file.name}: ${content.message}` : undefined);
    if (content.kind === 'refused') return;
    setText(content.text);
    setFrom(file.name.slice(0, LONGEST_NAME));
  };
  const type = (changed: string): void => {
    setText(changed);
    if (changed.trim() === '') setFrom(PASTED);
  };
  const addAll = (found: GaugeTable): void =>
    void job.send({
      kind: 'import-readings',
      from,
      readings: rowsOf(found),
      ...(meter.trim() === '' ? {} : { ohmmeter: { name: meter.trim() } }),
      ...(found.unit === undefined ? {} : { unit: found.unit }),
    });
  return { text, type, meter, setMeter, table, wrong, readFile, addAll };
}

/** A table of ohms and needle readings that somebody has already, pasted, picked or dropped. */
export function ImportReadings({ state, job }: ImportProps): JSX.Element {
  const { text, type, meter, setMeter, table, wrong, readFile, addAll } = useReadings({ state, job });
  const isThere = table !== undefined && table.rows.length > 0;
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
      <TextField
        label={`or paste: ohms and needle reading in ${shownUnit(state.gauge.unit)}, one pair a line`}
        rows={6}
        text={text}
        onText={type}
        hint="First line: resistance_ohm, reading. Columns leg (up, down) and at_stop (low, high) may follow."
      />
      <TextField
        label="Which ohmmeter?"
        text={meter}
        onText={setMeter}
        hint="Its name, if the sender was measured with it too."
      />
      {wrong === undefined ? null : (
        <Note kind="wrong">
          <p>{asSentence(wrong)}</p>
        </Note>
      )}
      {table === undefined ? null : <Understood table={table} unit={state.gauge.unit} />}
      <div>
        <button
          type="button"
          class="button button-main"
          disabled={!isThere}
          onClick={() => {
            if (table !== undefined) addAll(table);
          }}
        >
          {isThere ? `Add these ${table.rows.length} readings` : 'Paste or pick a table'}
        </button>
      </div>
    </div>
  );
}

const problemWords = (problem: Exclude<ReturnType<typeof gaugeTable>, GaugeTable>): string =>
  'row' in problem && problem.row !== undefined && problem.row > 0
    ? `row ${problem.row}: ${problem.message}`
    : problem.message;

function Understood({
  table,
  unit,
}: {
  readonly table: GaugeTable;
  readonly unit: string;
}): JSX.Element | null {
  const [first] = table.rows;
  const last = table.rows.at(-1);
  if (first === undefined || last === undefined) return null;
  const shown = shownUnit(table.unit ?? unit);
  return (
    <p class="hint figure">
      Understood: {table.rows.length} readings, from {shownOhm(first.resistanceOhm)} = {first.reading} {shown}{' '}
      to {shownOhm(last.resistanceOhm)} = {last.reading} {shown}.
      {table.warnings.map((warning) => ` ${asSentence(warning)}`).join('')}
    </p>
  );
}
