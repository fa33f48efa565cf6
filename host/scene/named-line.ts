import type { Box } from './label-place';

/** A line as a list names it: how it looks, what it is called, what it comes to. */
export type NamedLine = {
  readonly id: string;
  readonly name: string;
  readonly says?: string | undefined;
  readonly look: 'curve' | 'sender' | 'edge' | 'before';
  readonly dash: number;
};

/** The lines whose names found a place, each with its own. */
export const namedAt = (
  rows: readonly NamedLine[],
  placed: readonly { readonly id: string; readonly box: Box }[],
): { readonly row: NamedLine; readonly box: Box }[] =>
  rows.flatMap((row) => {
    const at = placed.find(({ id }) => id === row.id);
    return at === undefined ? [] : [{ row, box: at.box }];
  });
