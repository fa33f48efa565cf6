import { shortName, wordScore } from '../../../catalogue';
import { withCatalogue } from '../../input/catalogue-place';
import { entryJson, entryTable } from '../../output/catalogue-text';
import { counts } from '../../../store/catalogue';
import { schemaOf, type Action } from './action';
import { chosen, endsOfEntry, isShown } from './look';

/** More are no answer. */
const MOST_SHOWN = 20;

export const findAction: Action = {
  name: 'find',
  usage: '"WORDS"',
  help: 'cards by what is known of the part: "90 ohm full, 0 empty, two terminals, M14x1.5"',
  words: { least: 1, most: 40 },
  run: (words, given, surroundings) =>
    withCatalogue(given, surroundings, (catalogue) => {
      const asked = words.join(' ');
      const found = chosen(catalogue.entries(), given)
        .filter((entry) => counts(entry) && isShown(entry, given))
        .map((entry) => ({ entry, ...wordScore({ ...entry, ends: endsOfEntry(entry) }, asked) }))
        .filter(({ score }) => score > 0)
        .sort((one, other) => other.score - one.score || (one.entry.hash < other.entry.hash ? -1 : 1));
      const shown = found.slice(0, MOST_SHOWN);
      return {
        text:
          shown.length === 0
            ? ['no card has any of these words']
            : [
                ...entryTable(shown.map(({ entry }) => entry)),
                '',
                ...shown.map(
                  ({ entry, matched }) => `${shortName(entry.hash)}  because of: ${matched.join(', ')}`,
                ),
                ...(found.length > shown.length ? [`${found.length - shown.length} more fit less well`] : []),
              ],
        json: {
          schema: schemaOf('find'),
          found: found.length,
          cards: shown.map(({ entry, score, matched }) => ({ ...entryJson(entry), score, matched })),
        },
      };
    }),
};
