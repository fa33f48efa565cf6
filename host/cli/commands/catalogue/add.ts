import { licence, shortName } from '../../../catalogue';
import { keepCards, type Catalogue } from '../../../store/catalogue';
import { partWords } from '../../../words/catalogue';
import type { Report } from '../../command';
import { cardsFromFile, type CardWishes, type FileCards } from '../../input/curve-cards';
import { withCatalogue } from '../../input/catalogue-place';
import type { Arguments } from '../../options';
import { nowIso, schemaOf, type Action } from './action';

/** What is to be said of every card that is made. */
export const wishesOf = (given: Arguments): CardWishes => ({
  licence: licence.catch('private').parse(given.text('licence')),
  description: given.text('description'),
  simulated: given.flag('simulated'),
});

/** Keeps the curves of jobs and files. */
export const addAction: Action = {
  name: 'add',
  usage: 'JOB|FILE ...',
  help: 'keep the curves of jobs, CSVs of readings or points, or the JSON of curve and sender',
  words: { least: 1, most: 1_000 },
  run: async (words, given, surroundings) => {
    const wishes = wishesOf(given);
    const files: FileCards[] = [];
    for (const word of words) files.push(await cardsFromFile(word, surroundings, wishes));
    return withCatalogue(given, surroundings, (catalogue) => added(catalogue, files, given.text('model')));
  },
};

/** What was kept of one card. */
export type Kept = {
  readonly id: string;
  readonly sha256: string;
  readonly file: string;
  readonly isNew: boolean;
  readonly what: string;
  readonly points: number;
  readonly found: string | undefined;
  readonly simulated: boolean;
};

/** Keeps the cards of files with their slips, names their model, and fits what was new. */
export async function keepFiles(
  catalogue: Catalogue,
  files: readonly FileCards[],
  model: string | undefined,
): Promise<Kept[]> {
  const made = files.flatMap(({ file, slip, cards }) => cards.map((card) => ({ file, slip, card })));
  const kept = await keepCards(catalogue, made, { model, at: nowIso() });
  return kept.map(({ hash, isNew, file, card }) => ({
    ...{ id: shortName(hash), sha256: hash, file, isNew },
    what: partWords(card.kind, card.quantity),
    points: card.points.filter(({ struck }) => struck === undefined).length,
    ...{ found: card.found, simulated: card.simulated },
  }));
}

async function added(
  catalogue: Catalogue,
  files: readonly FileCards[],
  model: string | undefined,
): Promise<Report> {
  const kept = await keepFiles(catalogue, files, model);
  catalogue.workOut();
  return keptReport(kept, files, 'add');
}

/** What was kept and what was not, card by card and row by row. */
export function keptReport(
  kept: readonly Kept[],
  files: readonly FileCards[],
  action: 'add' | 'import',
): Report {
  const leftOut = files.flatMap(({ file, leftOut: rows }) => rows.map((row) => ({ file, ...row })));
  const found = {
    cards: kept.map(({ isNew, found: state, ...each }) => ({ ...each, new: isNew, found: state ?? null })),
    left_out: leftOut.map(({ file, row, why }) => ({ file, row: row ?? null, why })),
  };
  return {
    text: kept.map((each) =>
      [
        each.isNew ? 'kept' : 'known already',
        `${each.id}  ${each.what}, ${each.points} points`,
        ...(each.found === undefined ? [] : [each.found]),
        ...(each.simulated ? ['SIMULATED'] : []),
      ].join('  '),
    ),
    json: action === 'add' ? { schema: schemaOf('add'), ...found } : { schema: schemaOf('import'), ...found },
    warnings: [
      ...files.flatMap(({ warnings }) => warnings),
      ...leftOut.map(
        ({ file, row, why }) => `${file}${row === undefined ? '' : `, row ${row}`}: left out, ${why}`,
      ),
    ],
  };
}
