import type { CurvesDisagree } from '../../job/wire/catalogue-messages';
import { plain } from '../../words/notation';
import type { DisagreeJson } from './answers/catalogue';
import { afterDisagreement, disagreeWords } from '../../words/two-curves';

const itself = (id: string): string => id;

/** Cards of one part that contradict each other, and what to do about it with this command. */
export const disagreeText = (found: readonly CurvesDisagree[]): string[] =>
  found.flatMap((each) => {
    const [older, newer] = each.cards;
    return [
      '',
      disagreeWords(each, itself, plain),
      afterDisagreement(each, plain),
      `  needlewright catalogue withdraw ID --because "why it is wrong"`,
      `  needlewright catalogue withdraw ${older} --replaced-by ${newer} --because "what changed"`,
      `  needlewright catalogue apart ${newer}`,
    ];
  });

/** The same as JSON. */
export const disagreeJson = (found: readonly CurvesDisagree[]): DisagreeJson =>
  found.map((each) => ({
    kind: each.kind,
    cards: each.cards,
    at: each.at,
    shows: each.shows,
    explained: each.explained,
    unit: each.unit,
    message: disagreeWords(each, itself, plain),
  }));
