type Kinded = { readonly kind: string };
type Answered<T extends Kinded> = Exclude<T, { readonly kind: 'refused' }>;

const isAnswer = <T extends Kinded>(result: T): result is Answered<T> => result.kind !== 'refused';

/** The answer of a computation; a refusal fails the test with its own words. */
export function answered<T extends Kinded>(result: T): Answered<T> {
  if (isAnswer(result)) return result;
  throw new Error(`refused: ${JSON.stringify(result)}`);
}

/** The code of a refusal, or "answered". */
export function refusalCode(result: Kinded): string {
  return result.kind === 'refused' && 'code' in result ? String(result.code) : 'answered';
}
