import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { isZip, readArchive, takeIn, type Catalogue, type ReadArchive } from '../../../store/catalogue';
import type { Report, Surroundings } from '../../command';
import { cardsFromFile, type CardWishes, type FileCards } from '../../input/curve-cards';
import { withCatalogue } from '../../input/catalogue-place';
import { InputError, RefusedError } from '../../input-error';
import type { Arguments } from '../../options';
import { keepFiles, keptReport, wishesOf } from './add';
import { nowIso, schemaOf, type Action } from './action';

/** A folder of more files is no folder of curves. */
const MOST_FILES = 20_000;

/** Takes in what people have. */
export const importAction: Action = {
  name: 'import',
  usage: 'FILE|FOLDER ...',
  help: 'take in what export wrote, CSVs of ohms and readings, or a folder of them',
  words: { least: 1, most: 1_000 },
  run: async (words, given, surroundings) => {
    const wishes = wishesOf(given);
    const [only] = words;
    const archive = only === undefined ? undefined : await archiveIn(only, surroundings);
    if (archive !== undefined)
      return withCatalogue(given, surroundings, (catalogue) => archiveTaken(catalogue, archive, given));
    const files = (await Promise.all(words.map(filesOf))).flat();
    const read: FileCards[] = [];
    for (const file of files) read.push(await readOne(file, surroundings, wishes));
    if (given.flag('dry-run')) return dryReport(read);
    return withCatalogue(given, surroundings, (catalogue) => taken(catalogue, read, given));
  },
};

type NamedArchive = ReadArchive & { readonly file: string };

/** What `export` wrote; undefined for anything that is no zip. Throws InputError for a zip that is none of ours. */
async function archiveIn(file: string, surroundings: Surroundings): Promise<NamedArchive | undefined> {
  const bytes = await surroundings.readFile(file).catch(() => undefined);
  if (bytes === undefined || !isZip(bytes)) return undefined;
  const read = readArchive(bytes);
  if (read.kind === 'no-archive') throw new InputError(read.why, { file });
  return { ...read, file };
}

function archiveTaken(catalogue: Catalogue, archive: NamedArchive, given: Arguments): Report {
  const isDry = given.flag('dry-run');
  const known = new Set(isDry ? catalogue.keeper.since(0).map(({ hash }) => hash) : []);
  const fresh = isDry
    ? archive.documents.filter(({ hash }) => !known.has(hash)).length
    : takeIn(catalogue, archive, nowIso());
  const there = archive.documents.length - fresh;
  const left = archive.leftOut.length;
  if (archive.documents.length === 0)
    throw new InputError(`no document in it: ${archive.leftOut[0]?.why ?? 'it is empty'}`, {
      file: archive.file,
    });
  return {
    text: [
      `${fresh} documents ${isDry ? 'would be kept' : 'kept'}, ${there} known already${left === 0 ? '' : `, ${left} lines left out`}`,
    ],
    json: {
      schema: schemaOf('import'),
      dry_run: isDry,
      ...{ new: fresh, known: there },
      left_out: archive.leftOut.map(({ row, why }) => ({ file: archive.file, row, why })),
    },
    warnings: archive.leftOut.map(({ row, why }) => `${archive.file}, line ${row}: left out, ${why}`),
  };
}

/** The curve files of a folder and of those in it; a file is itself. */
async function filesOf(path: string): Promise<string[]> {
  const found = await readdir(path, { recursive: true, withFileTypes: true }).catch(() => undefined);
  if (found === undefined) return [path];
  const files = found
    .filter((entry) => entry.isFile() && /\.(csv|tsv|txt|json)$/i.test(entry.name))
    .map((entry) => join(entry.parentPath, entry.name))
    .sort();
  if (files.length === 0) throw new InputError('no CSV and no JSON lies in this folder', { file: path });
  if (files.length > MOST_FILES)
    throw new InputError(`${files.length} files are too many at once; the limit is ${MOST_FILES}`, {
      file: path,
    });
  return files;
}

/** A file that holds no curve stops no other. */
async function readOne(file: string, surroundings: Surroundings, wishes: CardWishes): Promise<FileCards> {
  try {
    return await cardsFromFile(file, surroundings, wishes);
  } catch (error) {
    if (!(error instanceof InputError) && !(error instanceof RefusedError)) throw error;
    const why = error instanceof InputError ? error.why : error.message;
    return { file, cards: [], leftOut: [{ why }], warnings: [] };
  }
}

async function taken(catalogue: Catalogue, read: readonly FileCards[], given: Arguments): Promise<Report> {
  const kept = await keepFiles(catalogue, read, given.text('model'));
  const known = kept.filter(({ isNew }) => !isNew).length;
  const news = `${kept.length - known} cards kept${known === 0 ? '' : `, ${known} known already`}`;
  return summed(keptReport(kept, read, 'import'), read, news);
}

function dryReport(read: readonly FileCards[]): Report {
  const cards = read.flatMap(({ file, cards: made }) =>
    made.map((card) => ({ file, kind: card.kind, quantity: card.quantity, points: card.points.length })),
  );
  const leftOut = read.flatMap(({ file, leftOut: rows }) => rows.map((row) => ({ file, ...row })));
  const report: Report = {
    text: cards.map(({ file, kind, quantity, points }) => `${file}: ${quantity} ${kind}, ${points} points`),
    json: {
      schema: schemaOf('import'),
      dry_run: true,
      cards,
      left_out: leftOut.map(({ file, row, why }) => ({ file, row: row ?? null, why })),
    },
    warnings: leftOut.map(
      ({ file, row, why }) => `${file}${row === undefined ? '' : `, row ${row}`}: left out, ${why}`,
    ),
  };
  return summed(report, read, `${cards.length} cards would be kept`);
}

/** Nothing at all is bad input; else a last line counts. */
function summed(report: Report, read: readonly FileCards[], done: string): Report {
  const leftOut = read.reduce((sum, each) => sum + each.leftOut.length, 0);
  if (read.every(({ cards }) => cards.length === 0))
    throw new InputError(`no curve in it: ${report.warnings?.join('; ') ?? 'nothing was found'}`);
  const rest = leftOut === 0 ? '' : `, ${leftOut} rows or files left out`;
  return { ...report, text: [...report.text, `${done}${rest}`] };
}
