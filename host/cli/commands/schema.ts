import { z } from 'zod';
import { answerNames, answerShapes, type AnswerName } from '../output/schemas';
import type { Command } from '../command';
import { InputError } from '../input-error';

/**
 * The JSON Schema of an answer, for other programs. It leaves room for fields that a later program adds: what was made by
 * it once describes its answers for as long as the number stays.
 */
const answerSchema = (name: AnswerName): Readonly<Record<string, unknown>> => ({
  ...z.toJSONSchema(answerShapes[name], {
    override: ({ jsonSchema }) => {
      if (jsonSchema.additionalProperties === false) delete jsonSchema.additionalProperties;
    },
  }),
  $id: `needlewright/${name}/1`,
});

const rows = (names: readonly string[], length: number): (readonly string[])[] =>
  names.length === 0 ? [] : [names.slice(0, length), ...rows(names.slice(length), length)];

/** What a program may rely on in an answer. */
export const schemaCommand: Command = {
  name: 'schema',
  summary: 'the JSON Schema of a command\u2019s --json answer',
  usage: 'NAME',
  example: 'needlewright schema trim',
  details: [
    'A command by its name, a word of it behind a hyphen (catalogue-list). Within one number fields are only ever added.',
    'Known:',
    ...rows(answerNames, 6).map((row) => `  ${row.join(', ')}`),
  ],
  options: {},
  words: { least: 1, most: 1 },
  run: ({ words: [asked] }) => {
    const name = answerNames.find((each) => each === asked);
    if (name === undefined)
      throw new InputError(`there is no schema of "${asked ?? ''}"; known: ${answerNames.join(', ')}`);
    return Promise.resolve({ text: JSON.stringify(answerSchema(name), null, 2).split('\n') });
  },
};
