import type { Refused } from '../../core/result';
import type { SaidOfCard } from '../../job/wire/catalogue-messages';
import type { Catalogue, Remark } from './catalogue';

/** Keeps what is said about a card. Answers why not: CARD_UNKNOWN, CARD_AMBIGUOUS. */
export function sayOfCard(catalogue: Catalogue, said: SaidOfCard, at: string): Refused | undefined {
  const card = catalogue.meant(said.card);
  if (typeof card !== 'string') return card;
  const by = said.says === 'replaced' ? catalogue.meant(said.by) : card;
  if (typeof by !== 'string') return by;
  catalogue.say([remarkOf(said, card, by, at)]);
  return undefined;
}

function remarkOf(said: SaidOfCard, card: string, by: string, at: string): Remark {
  const about = [card];
  switch (said.says) {
    case 'withdrawn':
      return { says: 'withdrawn', about, reason: said.reason, at };
    case 'replaced':
      return { says: 'supersedes', about, by, reason: said.reason, at };
    case 'apart':
      return { says: 'other-specimens', about, at };
  }
}
