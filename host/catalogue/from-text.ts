import { quantityOfUnit } from '../core/units';
import { recogniseColumns, type TableProblem } from '../core/text/columns';
import { gaugeRows } from '../core/text/gauge-rows';
import { senderTable } from '../core/text/sender-table';
import { curvesOfText } from '../core/text/several-curves';
import { tableFromText, type Table } from '../core/text/table';
import { explain } from '../job';
import { card as cardShape, MOST_POINTS, type Card } from './card';
import { gaugeCardFromReadings, senderCardFromPoints, type FileMaking } from './from-readings';

/** A row, or a whole curve, that became no card. */
export type LeftOut = {
  readonly row?: number | undefined;
  readonly column?: string | undefined;
  readonly message: string;
  /** The row as it was written. */
  readonly text?: string | undefined;
};

export type TextCards = {
  /** None where `leftOut` says why. */
  readonly cards: readonly Card[];
  readonly leftOut: readonly LeftOut[];
  readonly warnings: readonly string[];
};

/**
 * The cards in a text of one or several curves: ohms and needle readings, or a sender's values and ohms. A row that cannot
 * be read stops no other, and a curve that is none stops no other.
 */
export function cardsFromText(text: string, making: FileMaking): TextCards {
  const curves = curvesOfText(text);
  if ('kind' in curves) return nothing(curves);
  const found = curves.map(({ name, text: own }): TextCards => {
    if (name === undefined) return cardsOfCurve(own, making);
    const made = cardsOfCurve(own, { ...making, description: nameIn(making.description, name) });
    const leftOut = made.leftOut.map((each) =>
      made.cards.length > 0 ? each : { ...each, message: `${name}: ${each.message}` },
    );
    return { ...made, leftOut };
  });
  return {
    cards: found.flatMap(({ cards }) => cards),
    leftOut: found.flatMap(({ leftOut }) => leftOut),
    warnings: [...new Set(found.flatMap(({ warnings }) => warnings))],
  };
}

/** What one of several curves of a file is called. */
const nameIn = (file: string | undefined, name: string): string =>
  file === undefined ? name : file.toLowerCase().includes(name.toLowerCase()) ? file : `${file}, ${name}`;

const nothing = ({ row, column, message }: LeftOut): TextCards => ({
  ...{ cards: [], leftOut: [{ row, column, message }], warnings: [] },
});

const NOTHING_BELOW: LeftOut = { message: 'there is a header row and nothing below it' };

function cardsOfCurve(text: string, making: FileMaking): TextCards {
  const table = tableFromText(text);
  if (table.kind === 'refused') return nothing(table);
  const isSender = isSenderTable(table);
  if (typeof isSender !== 'boolean') return nothing(isSender);
  return isSender ? senderCards(text, making) : gaugeCards(table, making);
}

/** A table with a column of readings is a gauge's; one with temperature, pressure or level is a sender's. */
export function isSenderTable(table: Table): boolean | TableProblem {
  const columns = recogniseColumns(table, ['reading', 'temperature', 'pressure', 'level']);
  if (columns.kind === 'problem') return columns;
  return !columns.found.some(({ stem }) => stem === 'reading') && columns.found.length > 0;
}

function gaugeCards(table: Table, making: FileMaking): TextCards {
  const read = gaugeRows(table);
  if (read.kind === 'problem') return nothing(read);
  const { readings, unit, problems, warnings, resistanceUncertainty } = read;
  const texts = new Map(table.rows.map(({ row, text }) => [row, text]));
  const leftOut = problems.map((problem) => ({ ...problem, text: texts.get(problem.row) }));
  if (readings.length === 0) return { cards: [], leftOut: orNothing(leftOut), warnings };
  const quantity = unit === '' ? undefined : quantityOfUnit(unit);
  const reader = { resistanceUncertainty };
  return checked(gaugeCardFromReadings({ quantity, unit, readings, reader }, making), leftOut, warnings);
}

function senderCards(text: string, making: FileMaking): TextCards {
  const read = senderTable(text);
  if (read.kind !== 'sender-table') return nothing(read);
  const { points, unit = '', problems, warnings } = read;
  if (points.length === 0) return { cards: [], leftOut: orNothing(problems), warnings };
  return checked(senderCardFromPoints({ unit, points }, making), problems, warnings);
}

const orNothing = (leftOut: readonly LeftOut[]): readonly LeftOut[] =>
  leftOut.length === 0 ? [NOTHING_BELOW] : leftOut;

/** A card that the catalogue could not read again is none: its numbers are out of all bounds, or there are too many. */
function checked(card: Card, leftOut: readonly LeftOut[], warnings: readonly string[]): TextCards {
  const { length } = card.points;
  if (length > MOST_POINTS)
    return nothing({ message: `${length} points; a card holds at most ${MOST_POINTS}: thin them out` });
  const read = cardShape.safeParse(card);
  if (!read.success) return { cards: [], leftOut: [...leftOut, { message: explain(read.error) }], warnings };
  return { cards: [card], leftOut, warnings };
}
