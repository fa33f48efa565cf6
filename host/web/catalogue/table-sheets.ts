import { useEffect, useRef, useState } from 'preact/hooks';
import { MOST_TABLE_BYTES, textOfFile } from '../../core/text/file-text';
import type { TablesInCatalogue, TableTaken } from '../../job/wire/catalogue-messages';
import type { Refusal } from '../../job/wire/job-messages';
import { tablesInCatalogue } from '../connection/http';

/** A table before it is kept, and afterwards as long as a row of it is still to be mended. */
export type TableSheet = {
  readonly id: number;
  /** Name of its file; left out for what is pasted. */
  readonly from?: string;
  readonly text: string;
  /** The card that was made of it before it was mended. */
  readonly replaces?: string;
};

/** A table and what the host understood of it; undefined until it has answered. */
export type ReadSheet = { readonly sheet: TableSheet; readonly taken: TableTaken | undefined };
export type KeptCard = TableTaken['cards'][number];

const LONGEST_NAME = 150;
const MOST_SHEETS = 50;
const PAUSE_MS = 200;
const PASTED: TableSheet = { id: 0, text: '' };
const isFilled = ({ text }: TableSheet): boolean => text.trim() !== '';

/** The tables that are being brought in, what is understood of them, what was kept, and what is wrong. */
export function useTableSheets() {
  const [sheets, setSheets] = useState<readonly TableSheet[]>([PASTED]);
  const [kept, setKept] = useState<readonly KeptCard[]>([]);
  const [trouble, setTrouble] = useState<string | undefined>(undefined);
  const [isBusy, setBusy] = useState(false);
  const latest = useRef(sheets);
  latest.current = sheets;
  const filled = sheets.filter(isFilled);
  const answer = useReading(filled);
  const tables = answer?.kind === 'tables-in-catalogue' ? answer.tables : undefined;
  const read = sheets.map((sheet): ReadSheet => ({ sheet, taken: tables?.[filled.indexOf(sheet)] }));
  const put = (changed: readonly TableSheet[]): void => {
    latest.current = changed;
    setSheets(changed);
  };
  const addFile = async (file: File): Promise<void> => {
    const opened = await opening(file, latest.current);
    setTrouble('why' in opened ? `${file.name}: ${opened.why}` : undefined);
    if ('text' in opened) put([...latest.current, opened]);
  };
  const change = (id: number, text: string): void => {
    setTrouble(undefined);
    // A cleared field is a new table: what is pasted next takes no card's place.
    const { replaces: _, ...empty } = latest.current.find((each) => each.id === id) ?? PASTED;
    put(
      latest.current.map((each) =>
        each.id !== id ? each : text.trim() === '' ? { ...empty, text } : { ...each, text },
      ),
    );
  };
  const keep = async (model: string): Promise<void> => {
    setBusy(true);
    const given = latest.current.filter(isFilled);
    const done = await tablesInCatalogue(given.map(asGiven), model === '' ? {} : { model });
    setBusy(false);
    setTrouble(done.kind === 'refused' ? done.message : undefined);
    if (done.kind === 'refused') return;
    setKept([...kept, ...done.body.tables.flatMap(({ cards }) => cards)]);
    const left = given.flatMap((sheet, index) => afterwards(sheet, done.body.tables[index]));
    put(left.some(({ id }) => id === PASTED.id) ? left : [PASTED, ...left]);
  };
  const wrong = trouble ?? (answer?.kind === 'refused' ? answer.message : undefined);
  return { read, kept, wrong, isBusy, addFile, change, keep };
}

const asGiven = ({ from, text, replaces }: TableSheet) => ({
  text,
  ...(from === undefined ? {} : { from }),
  ...(replaces === undefined ? {} : { replaces }),
});

/** What the host understands of the tables, asked anew when one is changed; an older answer never comes over a newer. */
function useReading(filled: readonly TableSheet[]): TablesInCatalogue | Refusal | undefined {
  const [answer, setAnswer] = useState<{ readonly of: string; readonly is: TablesInCatalogue | Refusal }>();
  const question = JSON.stringify(filled.map(asGiven));
  useEffect(() => {
    let isOver = false;
    const timer = setTimeout(() => {
      if (filled.length === 0) return;
      void tablesInCatalogue(filled.map(asGiven)).then((got) => {
        if (!isOver) setAnswer({ of: question, is: got.kind === 'answer' ? got.body : got });
      });
    }, PAUSE_MS);
    return () => {
      isOver = true;
      clearTimeout(timer);
    };
  }, [question]);
  return answer?.of === question ? answer.is : undefined;
}

/** A file as a sheet of its own, or why it is none. */
async function opening(
  file: File,
  sheets: readonly TableSheet[],
): Promise<TableSheet | { readonly why: string }> {
  const room = MOST_TABLE_BYTES - sheets.reduce((sum, { text }) => sum + text.length, 0);
  if (sheets.length > MOST_SHEETS - 1)
    return { why: `${MOST_SHEETS} tables at once are the most; keep these first` };
  if (file.size <= MOST_TABLE_BYTES && file.size > room)
    return { why: 'with it the tables have more than 4 megabytes; keep these first' };
  // Of a file that is too large no more is read than tells so.
  const bytes = new Uint8Array(await file.slice(0, MOST_TABLE_BYTES + 1).arrayBuffer());
  const content = textOfFile(bytes, TextDecoder, MOST_TABLE_BYTES);
  if (content.kind === 'refused') return { why: content.message };
  const id = 1 + Math.max(...sheets.map((each) => each.id));
  return { id, from: file.name.slice(0, LONGEST_NAME), text: content.text };
}

/** A table stays while a row of it was left out; mended, its card takes the place of the first. */
function afterwards(sheet: TableSheet, taken: TableTaken | undefined): TableSheet[] {
  if (taken === undefined || taken.leftOutCount === 0) return [];
  const [only, ...others] = taken.cards;
  return [only?.id === undefined || others.length > 0 ? sheet : { ...sheet, replaces: only.id }];
}
