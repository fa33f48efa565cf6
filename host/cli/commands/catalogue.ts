import { JSON_OPTION, type Command } from '../command';
import { InputError, RefusedError } from '../input-error';

const ACTIONS: readonly string[] = ['list', 'show', 'add', 'export', 'import', 'rebuild'];

/** Not there yet: curves are passed between commands as files. */
export const catalogueCommand: Command = {
  name: 'catalogue',
  summary: 'curves kept for later jobs (not in this version)',
  usage: ACTIONS.join('|'),
  details: ['Not in this version: keep curves as the JSON files that curve and sender write.'],
  options: JSON_OPTION,
  words: { least: 0, most: 8 },
  run: ({ words: [action] }) =>
    Promise.reject(
      action === undefined || ACTIONS.includes(action)
        ? new RefusedError(
            'CATALOGUE_NOT_HERE',
            'the catalogue is not in this version; keep curves as the JSON files that curve and sender write',
          )
        : new InputError(`catalogue ${action}: choose one of ${ACTIONS.join(', ')}`),
    ),
};
