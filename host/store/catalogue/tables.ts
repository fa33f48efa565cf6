import { cardsFromText, documentText, shortName, type Card, type TextCards } from '../../catalogue';
import type { Refused } from '../../core/result';
import type { TableGiven, TablesInCatalogue, TableTaken } from '../../job/wire/catalogue-messages';
import { Catalogue } from './catalogue';
import { keepCards } from './keep-cards';
import { hashOf } from './keeper';
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
  if (keep === undefined && !Catalogue.isIn(folder)) return answerOf(read, () => undefined);
  let catalogue: Catalogue | undefined;
  try {
    catalogue = await Catalogue.open(folder, program);
    const { keeper } = catalogue;
    const before = new Set(keeper.hashes('card'));
    if (keep === undefined)
      return answerOf(read, (hash) => (before.has(hash) ? { isNew: false, refused: undefined } : undefined));
    const cards = read.flatMap((each) => each.cards.map((card) => ({ card })));
    await keepCards(catalogue, cards, { model: keep.model, at: keep.at });
    replace(catalogue, question, read, keep.at);
    catalogue.workOutForAnswer();
    const refusals = new Map(
      catalogue
        .entries()
        .flatMap(({ hash, search }) => (search?.kind === 'refused' ? [[hash, search.message]] : [])),
    );
    return answerOf(read, (hash) => ({ isNew: !before.has(hash), refused: refusals.get(hash) }));
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

/** A table that was mended and kept again: one card took the place of one. */
function replace(
  catalogue: Catalogue,
  { tables }: TablesQuestion,
  read: readonly TextCards[],
  at: string,
): void {
  for (const [index, { replaces }] of tables.entries()) {
    const [card, ...others] = read[index]?.cards ?? [];
    const old = replaces === undefined ? undefined : catalogue.meant(replaces);
    if (card === undefined || others.length > 0 || typeof old !== 'string') continue;
    const by = hashOfCard(card);
    if (by !== old) catalogue.say([{ says: 'supersedes', about: [old], by, at }]);
  }
}

const hashOfCard = (card: Card): string => hashOf(documentText(card));

type Known = { readonly isNew: boolean; readonly refused: string | undefined };

function answerOf(
  read: readonly TextCards[],
  knownOf: (hash: string) => Known | undefined,
): TablesInCatalogue {
  return {
    kind: 'tables-in-catalogue',
    tables: read.map(({ cards, leftOut, warnings }): TableTaken => ({
      cards: cards.map((card) => {
        const hash = hashOfCard(card);
        const known = knownOf(hash);
        return {
          ...{ kind: card.kind, quantity: card.quantity, points: card.points.length },
          ...(card.description === undefined ? {} : { name: card.description }),
          new: known?.isNew ?? true,
          ...(known === undefined ? {} : { id: shortName(hash) }),
          ...(known?.refused === undefined ? {} : { refused: known.refused }),
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
