import type { JSX } from 'preact';
import type { Box } from './label-place';

/** A line as a list names it: how it looks, what it is called, what it comes to. */
export type NamedLine = {
  readonly id: string;
  readonly name: string;
  readonly says?: string | undefined;
  readonly look: 'curve' | 'sender' | 'edge' | 'before';
  readonly dash: number;
};

/** Dashes by which senders are told apart. */
const DASHES = 5;
const SAMPLE_LENGTH = 40;

/** The class that draws a line of this look. */
export const lineClass = ({ look, dash }: Pick<NamedLine, 'look' | 'dash'>): string =>
  look === 'sender' ? `other sender dash-${dash % DASHES}` : look === 'edge' ? 'other edge' : look;

/** The lines whose names found a place, each with its own. */
export const namedAt = (
  rows: readonly NamedLine[],
  placed: readonly { readonly id: string; readonly box: Box }[],
): { readonly row: NamedLine; readonly box: Box }[] =>
  rows.flatMap((row) => {
    const at = placed.find(({ id }) => id === row.id);
    return at === undefined ? [] : [{ row, box: at.box }];
  });

/** A short piece of a line, beside its name. */
export const Sample = (props: {
  readonly row: NamedLine;
  readonly x: number;
  readonly y: number;
}): JSX.Element => <path class={lineClass(props.row)} d={`M${props.x} ${props.y}h${SAMPLE_LENGTH}`} />;

/** Names and results of the lines below a plot in which there was no room for them. */
export function LineList({ rows }: { readonly rows: readonly NamedLine[] }): JSX.Element {
  return (
    <ul class="kinds">
      {rows.map((row) => (
        <li key={row.id}>
          <svg class="plot sample" width={SAMPLE_LENGTH} height="12" aria-hidden="true">
            <Sample row={row} x={0} y={6} />
          </svg>
          <span>
            <span class={`${row.look}-name`}>{row.name}</span>
            {row.says === undefined ? null : <small>{row.says}</small>}
          </span>
        </li>
      ))}
    </ul>
  );
}
