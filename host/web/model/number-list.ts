import { typedNumber } from '../../core/typed-number';

export type NumberList = { readonly numbers: readonly number[]; readonly wrong: readonly string[] };

/** Several numbers in one field, as one empties a drawer: "10, 22, 4R7, 1k2". Spaces, semicolons and ", " part them. */
export function numberList(text: string): NumberList {
  const words = text
    .split(/[;\s]+|,\s+/)
    .map((word) => word.replace(/,$/, ''))
    .filter((word) => word !== '');
  const read = words.map((word) => ({ word, typed: typedNumber(word) }));
  return {
    numbers: read.flatMap(({ typed }) => (typed.kind === 'number' ? [typed.value] : [])),
    wrong: read.flatMap(({ word, typed }) => (typed.kind === 'refused' ? [word] : [])),
  };
}
