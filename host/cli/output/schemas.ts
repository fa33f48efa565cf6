import type { z } from 'zod';
import { boxAnswers } from './answers/boxes';
import { catalogueAnswers } from './answers/catalogue';
import { clusterAnswers } from './answers/cluster';
import { curveAnswers } from './answers/curve';
import { figureAnswers } from './answers/figures';
import { jobAnswers } from './answers/jobs';
import { networkAnswers } from './answers/network';
import { provingAnswers } from './answers/proving';
import { refusedShape } from './answers/refused';
import { senderAnswers } from './answers/sender';
import type { Looked } from './answers/shared';

/** Answers of commands as JSON: what programs may rely on. Within one number fields are only ever added. */
export const answerShapes = {
  ...curveAnswers,
  ...senderAnswers,
  ...networkAnswers,
  ...figureAnswers,
  ...provingAnswers,
  ...jobAnswers,
  ...boxAnswers,
  ...catalogueAnswers,
  ...clusterAnswers,
  refused: refusedShape,
} as const;

export type AnswerName = keyof typeof answerShapes;

export type AnswerOf<Name extends AnswerName> = Looked<z.infer<(typeof answerShapes)[Name]>>;

/** What stands on standard output with --json. */
export type Answer = { [Name in AnswerName]: AnswerOf<Name> }[AnswerName];

const isAnswerName = (name: string): name is AnswerName => Object.hasOwn(answerShapes, name);
export const answerNames: readonly AnswerName[] = Object.keys(answerShapes).filter(isAnswerName).sort();
