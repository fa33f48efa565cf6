/** What a computation answers when it cannot or must not give a number: a code to test for, a sentence to show. */
export type Refused<Code extends string = string> = {
  readonly kind: 'refused';
  readonly code: Code;
  readonly message: string;
};

export const refuse = <Code extends string>(code: Code, message: string): Refused<Code> => ({
  kind: 'refused',
  code,
  message,
});

export { isRefused } from './refusal';
