import type { JSX } from 'preact';
import type { NamedLine } from '../../scene/named-line';

/** Dashes by which senders are told apart. */
const DASHES = 5;
const SAMPLE_LENGTH = 40;

/** The class that draws a line of this look. */
export const lineClass = ({ look, dash }: Pick<NamedLine, 'look' | 'dash'>): string =>
  look === 'sender' ? `other sender dash-${dash % DASHES}` : look === 'edge' ? 'other edge' : look;

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
