import { JSON_OPTION, type Command } from './command';
import { InputError } from './input-error';

/** Not there yet: curves are passed between commands as files. */
export const catalogueCommand: Command = {
  name: 'catalogue',
  summary: 'curves kept for later jobs (not in this version)',
  usage: 'list|show|add|export|import|rebuild',
  details: ['Not in this version: keep curves as the JSON files that curve and sender write.'],
  options: JSON_OPTION,
  words: { least: 0, most: 8 },
  run: () =>
    Promise.reject(
      new InputError(
        'the catalogue is not in this version; keep curves as the JSON files that curve and sender write',
      ),
    ),
};
