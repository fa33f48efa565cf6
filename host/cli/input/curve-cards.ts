import { basename, join } from 'node:path';
import { version } from '../../../package.json';
import {
  gaugeCardFromReadings,
  senderCardFromPoints,
  type Card,
  type FileMaking,
  type Licence,
  type Slip,
} from '../../catalogue';
import { curvesOfText } from '../../core/text/several-curves';
import { senderTable } from '../../core/text/sender-table';
import { JOURNAL_FILE } from '../../store';
import { cardsOfJob } from '../../store/catalogue';
import type { Surroundings } from '../command';
import { InputError, refusedError } from '../input-error';
import { fileWarning, inputError } from './columns';
import { isSenderInput } from './curve-kind';
import { gaugeRows } from './gauge-file';
import { gridFromText, readInput, type Input } from './input-file';
import { pointsFromSenderJson, readingsFromCurveJson } from './saved-curves';

/** What a file had for the catalogue: its cards, and the rows that were left out with their reasons. */
export type FileCards = {
  readonly file: string;
  readonly cards: readonly Card[];
  readonly slip?: Slip | undefined;
  readonly leftOut: readonly { readonly row?: number | undefined; readonly why: string }[];
  readonly warnings: readonly string[];
};

export type CardWishes = {
  readonly licence: Licence;
  readonly description: string | undefined;
  readonly simulated: boolean;
};

/**
 * The cards in a job (its folder or its journal), a CSV of readings or points, or the JSON of `curve` or `sender`. Bad
 * rows of a CSV are left out and told, the others kept. Throws InputError where there is no curve in it at all.
 */
export async function cardsFromFile(
  path: string,
  surroundings: Surroundings,
  wishes: CardWishes,
): Promise<FileCards> {
  const input = await readJobOrFile(path, surroundings);
  if (input.kind === 'job') return cardsOfJournal(input, wishes);
  if (input.kind === 'card') throw new InputError('this card is in the catalogue already', { file: path });
  const making: FileMaking = {
    ...{ file: basename(input.file), program: version, licence: wishes.licence },
    ...{ description: wishes.description ?? nameOf(input.file), simulated: wishes.simulated },
  };
  return input.kind === 'json' ? cardsOfJson(input, making) : cardsOfText(input, making);
}

/** The curves of a text, one or several: where one of several is none, the others are kept. */
function cardsOfText({ file, text }: Extract<Input, { kind: 'csv' }>, making: FileMaking): FileCards {
  const curves = curvesOfText(text);
  const found = curves.map(({ name, text: own }): FileCards => {
    const described =
      name === undefined ? making : { ...making, description: nameIn(making.description, name) };
    try {
      return cardsOfTable({ kind: 'csv', file, text: own, grid: gridFromText(file, own) }, described);
    } catch (error) {
      if (!(error instanceof InputError) || curves.length === 1) throw error;
      const why = name === undefined ? error.why : `${name}: ${error.why}`;
      return { file, cards: [], leftOut: [{ why }], warnings: [] };
    }
  });
  const [first] = found;
  if (first !== undefined && found.every(({ cards }) => cards.length === 0))
    throw new InputError(`no curve in it: ${first.leftOut[0]?.why ?? ''}`, { file });
  return {
    file,
    cards: found.flatMap(({ cards }) => cards),
    leftOut: found.flatMap(({ leftOut }) => leftOut),
    warnings: [...new Set(found.flatMap(({ warnings }) => warnings))],
  };
}

/** What one of several curves of a file is called. */
const nameIn = (file: string, name: string): string =>
  file.toLowerCase().includes(name.toLowerCase()) ? file : `${file}, ${name}`;

/** A folder is a job where a journal lies in it. */
async function readJobOrFile(path: string, surroundings: Surroundings): Promise<Input> {
  try {
    return await readInput(path, surroundings);
  } catch (error) {
    if (!(error instanceof InputError) || !error.message.includes('this is a folder')) throw error;
    return readInput(join(path, JOURNAL_FILE), surroundings);
  }
}

function cardsOfJournal(
  { file, job, events, text }: Extract<Input, { kind: 'job' }>,
  { licence, description }: CardWishes,
): FileCards {
  const made = cardsOfJob({ job, events, text }, { program: version, licence });
  if (made.kind === 'refused') throw refusedError(made);
  const { cards, slip } = made;
  return {
    file,
    cards: description === undefined ? cards : cards.map((card) => ({ ...card, description })),
    ...{ slip, leftOut: [], warnings: [] },
  };
}

function cardsOfJson({ file, document }: Extract<Input, { kind: 'json' }>, making: FileMaking): FileCards {
  const isSender =
    typeof document === 'object' && document !== null && 'kind' in document && document.kind === 'sender';
  const card = isSender
    ? senderCardFromPoints(pointsFromSenderJson(file, document), making)
    : gaugeCardFromReadings(readingsFromCurveJson(file, document), making);
  return { file, cards: [card], leftOut: [], warnings: [] };
}

function cardsOfTable(input: Extract<Input, { kind: 'csv' }>, making: FileMaking): FileCards {
  if (isSenderInput(input)) return senderCards(input, making);
  const { input: read, problems } = gaugeRows(input.grid);
  return {
    file: input.file,
    cards: [gaugeCardFromReadings(read, making)],
    leftOut: byRow(problems),
    warnings: read.warnings,
  };
}

function senderCards({ file, text }: Extract<Input, { kind: 'csv' }>, making: FileMaking): FileCards {
  const read = senderTable(text);
  if (read.kind !== 'sender-table') throw inputError(file, read);
  const { points, unit = '', problems, warnings } = read;
  const [first, ...others] = problems;
  if (points.length === 0 && first !== undefined) throw inputError(file, first, others);
  if (points.length === 0) throw new InputError('there is a header row and nothing below it', { file });
  return {
    file,
    cards: [senderCardFromPoints({ unit, points }, making)],
    leftOut: byRow(problems),
    warnings: warnings.map((warning) => fileWarning(file, warning)),
  };
}

type Problem = {
  readonly row?: number | undefined;
  readonly column?: string | undefined;
  readonly message: string;
};

const byRow = (problems: readonly Problem[]): FileCards['leftOut'] =>
  problems.map(({ row, column, message }) => ({
    row,
    why: column === undefined ? message : `${column}: ${message}`,
  }));

/** What the part is called where nobody says more: the name of the file. */
const nameOf = (file: string): string =>
  basename(file)
    .replace(/\.[a-z0-9]{1,5}$/i, '')
    .replace(/[_]+/g, ' ');
