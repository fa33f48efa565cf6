import type { Refusal } from '../core/refusal';
import type { Refused } from '../core/result';
import { plain } from '../words/notation';
import { said } from '../words/refusal';
import type { AnswerOf } from './output/schemas';

/** Where in the input something is wrong; rows and columns count from 1 as a spreadsheet shows them. */
export type InputPlace = {
  readonly file?: string | undefined;
  readonly row?: number | undefined;
  readonly column?: string | undefined;
};

/** Input a command cannot use: exit code 2 and one line that names the place and what to do. */
export class InputError extends Error {
  /** What is wrong, for whoever names the file already. */
  readonly why: string;
  constructor(message: string, place: InputPlace = {}, options?: { readonly cause?: unknown }) {
    super(`${placeText(place)}${message}`, options);
    this.name = 'InputError';
    this.why = `${placeText({ ...place, file: undefined })}${message}`;
  }
}

/** What some refusals tell beside the reason. */
export type RefusedMore = Omit<AnswerOf<'refused'>, 'schema' | 'refused'>;

/** A request that is understood and cannot be met: exit code 3, with the code a program can test for. */
export class RefusedError extends Error {
  readonly code: string;
  /** What else the JSON document tells beside the refusal, such as how near resistors could come. */
  readonly extra: RefusedMore;
  constructor(code: string, message: string, extra: RefusedMore = {}) {
    super(message);
    this.name = 'RefusedError';
    this.code = code;
    this.extra = extra;
  }
}

/** What the core refused, said on the command line; `where` stands before it. */
export const refusedError = (refused: Refusal | Refused, where = '', extra: RefusedMore = {}): RefusedError =>
  new RefusedError(refused.code, `${where}${said(refused, plain)}`, extra);

function placeText({ file, row, column }: InputPlace): string {
  const parts = [
    ...(file === undefined ? [] : [file]),
    ...(row === undefined ? [] : [`row ${row}`]),
    ...(column === undefined ? [] : [`column ${column}`]),
  ];
  return parts.length === 0 ? '' : `${parts.join(', ')}: `;
}
