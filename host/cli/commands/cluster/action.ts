import type { Report, Surroundings } from '../../command';
import { RefusedError } from '../../input-error';
import type { Refused } from '../../../core/result';
import type { Arguments } from '../../options';

/** One word behind `cluster`. `words` come without that word. */
export type Action = {
  readonly name: string;
  readonly usage: string;
  readonly help: string;
  readonly words: { readonly least: number; readonly most: number };
  readonly run: (words: readonly string[], given: Arguments, surroundings: Surroundings) => Promise<Report>;
};

/** The schema that a JSON answer of an action names. */
export const schemaOf = <const Name extends string>(action: Name): `needlewright/cluster-${Name}/1` =>
  `needlewright/cluster-${action}/1`;

export const BY = 'terminal';
export const nowIso = (): string => new Date().toISOString();

const isAnswer = <Value extends object>(value: Value): value is Exclude<Value, Refused> =>
  !('kind' in value && value.kind === 'refused');

/** What was refused ends the command with its reason. */
export function must<Value extends object>(value: Value): Exclude<Value, Refused> {
  if (isAnswer(value)) return value;
  const { code, message } = { code: 'REFUSED', message: 'refused', ...value };
  throw new RefusedError(code, message);
}

/** The same of an answer that is a word. */
export function mustBe<Word extends string>(value: Word | Refused): Word {
  if (typeof value === 'string') return value;
  throw new RefusedError(value.code, value.message);
}
