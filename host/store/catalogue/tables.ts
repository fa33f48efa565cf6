import { cardsFromText, shortName, type TextCards } from '../../catalogue';
import type { Refused } from '../../core/result';
import type { TableGiven, TablesInCatalogue, TableTaken } from '../../job/wire/catalogue-messages';
import { Catalogue } from './catalogue';
import { keepCards } from './keep-cards';
import { CatalogueTrouble } from './sqlite';

export type TablesQuestion = {
  /** Where the catalogue lies. */
  readonly folder: string;
  readonly program: string;
  readonly tables: readonly TableGiven[];
  /** Left out: only looks, and makes no catalogue where there is none. */
  readonly keep?: { readonly at: string; readonly model?: string | undefined };
};

/** More reasons are read by nobody. */
const MOST_LEFT_OUT = 100;

/**
 * The curves in tables; with `keep`, after these were kept. The same table twice is one card, and one that was mended takes
 * the place of what it was. A bad row stops no other. Refuses what the disk of the catalogue refuses.
 */
export async function tablesInCatalogue(question: TablesQuestion): Promise<TablesInCatalogue | Refused> {
  const { folder, program, tables, keep } = question;
  const read = tables.map((table) => cardsFromText(table.text, makingOf(table, program)));
  const cards = read.flatMap((each) => each.cards);
  if (keep === undefined && !Catalogue.isIn(folder)) return answerOf(read, { before: [], after: [] });
  let catalogue: Catalogue | undefined;
  try {
    catalogue = await Catalogue.open(folder, program);
    const before = catalogue.known(cards);
    if (keep === undefined) return answerOf(read, { before, after: before });
    const kept = await keepCards(
      catalogue,
      cards.map((card) => ({ card })),
      { model: keep.model, at: keep.at },
    );
    const after = kept.map(({ hash }) => hash);
    replace(catalogue, question, perTable(read, after), keep.at);
    catalogue.workOutForAnswer();
    const refusals = new Map(
      catalogue
        .entries()
        .flatMap(({ hash, search }) => (search?.kind === 'refused' ? [[hash, search.message]] : [])),
    );
    return answerOf(read, { before, after, refusals });
  } catch (error) {
    if (error instanceof CatalogueTrouble) return error.refused;
    throw error;
  } finally {
    catalogue?.close();
  }
}

const makingOf = ({ from }: TableGiven, program: string) => ({
  ...{ file: from, program, licence: 'private' as const, simulated: false },
  description: from?.replace(/\.[a-z0-9]{1,5}$/i, '').replace(/_+/g, ' '),
});

type Hash = string | undefined;

/** What is said of all cards in their order, table by table. */
function perTable(read: readonly TextCards[], hashes: readonly Hash[]): readonly (readonly Hash[])[] {
  let from = 0;
  return read.map(({ cards }) => {
    const own = cards.map((_, index) => hashes[from + index]);
    from += cards.length;
    return own;
  });
}

/** A table that was mended and kept again: one card took the place of one. */
function replace(
  catalogue: Catalogue,
  { tables }: TablesQuestion,
  hashes: readonly (readonly Hash[])[],
  at: string,
): void {
  for (const [index, { replaces }] of tables.entries()) {
    const [by, ...others] = hashes[index] ?? [];
    const old = replaces === undefined ? undefined : catalogue.meant(replaces);
    if (by === undefined || others.length > 0 || typeof old !== 'string' || by === old) continue;
    catalogue.say([{ says: 'supersedes', about: [old], by, at }]);
  }
}

type Known = {
  /** Under which each card was kept before, and is now. */
  readonly before: readonly Hash[];
  readonly after: readonly Hash[];
  readonly refusals?: ReadonlyMap<string, string>;
};

function answerOf(read: readonly TextCards[], { before, after, refusals }: Known): TablesInCatalogue {
  const [was, is] = [perTable(read, before), perTable(read, after)];
  return {
    kind: 'tables-in-catalogue',
    tables: read.map(({ cards, leftOut, warnings }, table): TableTaken => ({
      cards: cards.map((card, index) => {
        const hash = is[table]?.[index];
        const refused = hash === undefined ? undefined : refusals?.get(hash);
        return {
          ...{ kind: card.kind, quantity: card.quantity, points: card.points.length },
          ...(card.description === undefined ? {} : { name: card.description }),
          new: was[table]?.[index] === undefined,
          ...(hash === undefined ? {} : { id: shortName(hash) }),
          ...(refused === undefined ? {} : { refused }),
        };
      }),
      leftOut: leftOut
        .slice(0, MOST_LEFT_OUT)
        .map(({ row, column, message, text }) => ({ row, column, message, text })),
      leftOutCount: leftOut.length,
      warnings,
    })),
  };
}
