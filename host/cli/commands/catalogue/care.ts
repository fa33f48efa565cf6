import { verify } from '../../../store/catalogue';
import { withCatalogue } from '../../input/catalogue-place';
import { RefusedError } from '../../input-error';
import { schemaOf, type Action } from './action';

export const rebuildAction: Action = {
  name: 'rebuild',
  usage: '',
  help: 'work out every card again; nothing that was kept changes',
  words: { least: 0, most: 0 },
  run: (_, given, surroundings) =>
    withCatalogue(given, surroundings, (catalogue) => {
      catalogue.forgetWorkedOut();
      catalogue.workOut();
      const entries = catalogue.entries();
      const without = entries.filter(({ search }) => search?.kind === 'refused').length;
      return {
        text: [
          `${entries.length} cards worked out${without === 0 ? '' : `; ${without} have no curve in them`}`,
        ],
        json: { schema: schemaOf('rebuild'), cards: entries.length, without_curve: without },
      };
    }),
};

export const verifyAction: Action = {
  name: 'verify',
  usage: '',
  help: 'take every hash again, read every document, and compare the cache with cards fitted anew',
  words: { least: 0, most: 0 },
  run: (_, given, surroundings) =>
    withCatalogue(given, surroundings, (catalogue) => {
      const { documents, fitted, faults } = verify(catalogue);
      const found = { documents, fitted, faults };
      const [first] = faults;
      if (first !== undefined) {
        const more = faults.length === 1 ? '' : ` (and ${faults.length - 1} more; --json lists them)`;
        throw new RefusedError('CATALOGUE_FAULTY', `${first}${more}`, found);
      }
      return {
        text: [`${documents} documents are sound; ${fitted} cards fitted again gave the same`],
        json: { schema: schemaOf('verify'), ...found },
      };
    }),
};
