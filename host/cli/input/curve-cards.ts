import { basename, join } from 'node:path';
import { version } from '../../../package.json';
import {
  cardsFromText,
  gaugeCardFromReadings,
  senderCardFromPoints,
  type Card,
  type FileMaking,
  type LeftOut,
  type Licence,
  type Slip,
} from '../../catalogue';
import { JOURNAL_FILE } from '../../store';
import { cardsOfJob } from '../../store/catalogue';
import type { Surroundings } from '../command';
import { InputError, refusedError } from '../input-error';
import { fileWarning, inputError } from './columns';
import { readInput, type Input } from './input-file';
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

function cardsOfText({ file, text }: Extract<Input, { kind: 'csv' }>, making: FileMaking): FileCards {
  const { cards, leftOut, warnings } = cardsFromText(text, making);
  const [first, ...others] = leftOut;
  if (cards.length === 0 && first !== undefined)
    throw inputError(
      file,
      first,
      others.filter(({ row, column }) => row !== undefined && column !== undefined),
    );
  return { file, cards, leftOut: byRow(leftOut), warnings: warnings.map((each) => fileWarning(file, each)) };
}

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

const byRow = (problems: readonly LeftOut[]): FileCards['leftOut'] =>
  problems.map(({ row, column, message }) => ({
    row,
    why: column === undefined ? message : `${column}: ${message}`,
  }));

/** What the part is called where nobody says more: the name of the file. */
const nameOf = (file: string): string =>
  basename(file)
    .replace(/\.[a-z0-9]{1,5}$/i, '')
    .replace(/[_]+/g, ' ');
