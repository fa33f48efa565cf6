import { licence } from '../../../catalogue';
import { mechanisms } from '../../../core/curve';
import { nearest } from '../../../core/text/nearest';
import { JSON_OPTION, type Command } from '../../command';
import { InputError } from '../../input-error';
import { CATALOGUE_OPTIONS } from '../../input/catalogue-place';
import type { Action } from './action';
import { addAction } from './add';
import { demoAction } from './demo';
import { exportAction } from './export';
import { findAction } from './find';
import { importAction } from './import';
import { rebuildAction, verifyAction } from './care';
import { keysAction } from './keys';
import { listAction, showAction } from './look';
import { modelAction } from './model';
import { apartAction, eraseSlipAction, sameAction, withdrawAction } from './say';
import { syncAction } from './sync';

const ACTIONS: readonly Action[] = [
  addAction,
  listAction,
  showAction,
  findAction,
  modelAction,
  sameAction,
  apartAction,
  withdrawAction,
  exportAction,
  importAction,
  syncAction,
  keysAction,
  rebuildAction,
  verifyAction,
  eraseSlipAction,
  demoAction,
];

const MOST_WORDS = 1_001;
const width = Math.max(...ACTIONS.map(({ name, usage }) => `${name} ${usage}`.length));

/** Every curve a shop has measured, kept and found again. */
export const catalogueCommand: Command = {
  name: 'catalogue',
  summary: 'every gauge and sender a shop has measured: keep, find, compare, pass on',
  usage: `${ACTIONS.map(({ name }) => name).join('|')} ...`,
  example: 'needlewright catalogue find "90 ohm full, 0 empty, two terminals"',
  details: [
    'A card is one measured curve of one part. Nothing is ever changed: what is said later is kept beside it.',
    `A card is called by the first letters of its name. It lies in one file on this machine.`,
    '',
    ...ACTIONS.map(({ name, usage, help }) => `  ${`${name} ${usage}`.padEnd(width)}  ${help}`),
  ],
  options: {
    model: {
      kind: 'text',
      value: 'NAME',
      help: 'add, import: the model these parts belong to; export: only this one',
    },
    also: { kind: 'text', value: 'NAME', help: 'model: another name of it' },
    description: { kind: 'text', value: 'WORDS', help: 'add: what the part is called, part number, thread' },
    licence: {
      kind: 'choice',
      choices: licence.options,
      help: 'add: what may travel; private when left out',
    },
    kind: { kind: 'choice', choices: ['gauge', 'sender'], help: 'only these' },
    family: { kind: 'text', value: 'LOW-HIGH', help: 'only with these ohms at the ends, such as 240-33' },
    mechanism: { kind: 'choice', choices: mechanisms, help: 'only these' },
    words: { kind: 'text', value: 'WORDS', help: 'only with one of these words' },
    select: { kind: 'choice', choices: ['all', 'shared'], help: 'export: leave out what is private' },
    unsigned: { kind: 'flag', help: 'export, sync: sign nothing; export: leave signatures out' },
    name: { kind: 'text', value: 'SHOP', help: 'keys: whose key this is' },
    'dry-run': { kind: 'flag', help: 'import: say what would be kept, and keep nothing' },
    remove: { kind: 'flag', help: 'demo: take it out again' },
    because: { kind: 'text', value: 'REASON', help: 'withdraw: why' },
    'replaced-by': { kind: 'text', value: 'ID', help: 'withdraw: the card that counts instead' },
    simulated: { kind: 'flag', help: 'simulated cards too; add: what is added was simulated' },
    ...CATALOGUE_OPTIONS,
    ...JSON_OPTION,
  },
  words: { least: 0, most: MOST_WORDS },
  run: ({ words: [name = 'list', ...words], ...given }, surroundings) => {
    const action = ACTIONS.find((each) => each.name === name) ?? unknownAction(name);
    const { least, most } = action.words;
    if (words.length < least || words.length > most)
      throw new InputError(`usage: needlewright catalogue ${action.name} ${action.usage}`.trimEnd());
    return action.run(words, { words, ...given }, surroundings);
  },
};

function unknownAction(name: string): never {
  const names = ACTIONS.map((each) => each.name);
  const near = nearest(name, names);
  throw new InputError(
    `catalogue ${name}: ${near === undefined ? `choose one of ${names.join(', ')}` : `did you mean ${near}?`}`,
  );
}
