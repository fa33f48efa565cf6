import { z } from 'zod';
import { answerNames, answerShapes } from '../output/schemas';
import type { Command } from '../command';
import { InputError } from '../input-error';

/** What a program may rely on in an answer. */
export const schemaCommand: Command = {
  name: 'schema',
  summary: 'the JSON Schema of a command\u2019s --json answer',
  usage: 'COMMAND',
  example: 'needlewright schema trim',
  details: [`Known: ${answerNames.join(', ')}. Within one number fields are only ever added.`],
  options: {},
  words: { least: 1, most: 1 },
  run: ({ words: [asked] }) => {
    const name = answerNames.find((each) => each === asked);
    if (name === undefined)
      throw new InputError(`there is no schema of "${asked ?? ''}"; known: ${answerNames.join(', ')}`);
    const json = { ...z.toJSONSchema(answerShapes[name]), $id: `needlewright/${name}/1` };
    return Promise.resolve({ text: JSON.stringify(json, null, 2).split('\n'), json });
  },
};
