import type { Card, Slip } from '../../catalogue';
import type { Catalogue } from './catalogue';

/** A card and what is private about it. */
export type MadeCard = { readonly card: Card; readonly slip?: Slip | undefined };

/** Keeps cards with their slips, and says which model they belong to. */
export async function keepCards<Made extends MadeCard>(
  catalogue: Catalogue,
  made: readonly Made[],
  { model, at }: { readonly model: string | undefined; readonly at: string },
): Promise<(Made & { readonly hash: string; readonly isNew: boolean })[]> {
  const results = catalogue.add(
    made.map(({ card }) => card),
    at,
  );
  const kept = made.map((each, index) => ({ ...each, ...(results[index] ?? { hash: '', isNew: false }) }));
  for (const { hash, isNew, card, slip } of kept)
    if (isNew && card.kind === 'gauge' && slip !== undefined) await catalogue.slips.put(hash, slip);
  // A job has a gauge and its senders: a model is one or the other, and the gauge is what it is about.
  const kind = kept.some(({ card }) => card.kind === 'gauge') ? 'gauge' : 'sender';
  const about = [...new Set(kept.filter(({ card }) => card.kind === kind).map(({ hash }) => hash))];
  if (model !== undefined && about.length > 0)
    catalogue.say([{ says: 'belongs-to-model', about, model, at }]);
  return kept;
}
