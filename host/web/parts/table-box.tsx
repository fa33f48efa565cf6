import type { ComponentChildren, JSX } from 'preact';

/** Lets a wide table scroll sideways on a narrow screen, by finger or by keyboard, without moving the page. */
export const TableBox = (props: {
  readonly label: string;
  readonly children: ComponentChildren;
}): JSX.Element => (
  <div class="table-scroll" role="region" aria-label={props.label} tabIndex={0}>
    {props.children}
  </div>
);
