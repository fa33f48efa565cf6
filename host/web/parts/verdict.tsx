import type { ComponentChildren, JSX } from 'preact';
import { Icon } from './icon';

/** Within, outside, or not to be told: a shape before a colour, and always in words. */
export const Verdict = (props: {
  readonly kind: 'good' | 'bad' | 'doubt';
  readonly children: ComponentChildren;
}): JSX.Element => (
  <p class={`verdict verdict-${props.kind}`}>
    <Icon of={props.kind} />
    <span>{props.children}</span>
  </p>
);
