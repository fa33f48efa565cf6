import { z } from 'zod';
import { answerShapes, type AnswerName } from '../../host/cli/output/schemas';

const named = z.looseObject({ schema: z.string() });
const isName = (name: string): name is AnswerName => Object.hasOwn(answerShapes, name);

/** The name of the answer, once every field of the document is one that its schema describes. Throws where one is not. */
export function strictAnswer(document: unknown): AnswerName {
  const { schema } = named.parse(document);
  const name = /^needlewright\/([a-z-]+)\/\d+$/.exec(schema)?.[1] ?? '';
  if (!isName(name)) throw new Error(`no schema describes ${schema}`);
  const read = answerShapes[name].safeParse(document);
  if (!read.success) throw new Error(`${schema} is not what its schema says: ${z.prettifyError(read.error)}`);
  return name;
}
