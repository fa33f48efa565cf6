import { isRefused, type Refusal } from '../../host/core/refusal';
import { plain } from '../../host/words/notation';
import { saidRefusal } from '../../host/words/refusal';
type Answered<T> = Exclude<T, { readonly kind: 'refused' }>;

const isAnswer = <T extends object>(result: T): result is Answered<T> =>
  !('kind' in result && result.kind === 'refused');

/** The answer of a computation; a refusal fails the test with its own words. */
export function answered<T extends object>(result: T): Answered<T> {
  if (isAnswer(result)) return result;
  throw new Error(`refused: ${JSON.stringify(result)}`);
}

/** The code of a refusal, or "answered". */
export function refusalCode(result: object): string {
  return 'kind' in result && result.kind === 'refused' && 'code' in result ? String(result.code) : 'answered';
}

/** The sentence of a refusal, or "". */
export const refusalMessage = (result: Refusal | { readonly kind: string }): string =>
  isRefused(result) ? saidRefusal(result, plain) : '';
