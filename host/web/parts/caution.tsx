import type { ComponentChildren, JSX } from 'preact';
import { Icon } from './icon';

type CautionProps = {
  /** The whole danger in one line; what stands below only explains it. */
  readonly line: string;
  readonly open?: boolean;
  readonly children: ComponentChildren;
};

/** One line with a sign that opens downward. */
export const Caution = ({ line, open, children }: CautionProps): JSX.Element => (
  <details class="caution" {...(open === undefined ? {} : { open })}>
    <summary>
      <Icon of="caution" />
      <span>{line}</span>
    </summary>
    <div class="caution-body">{children}</div>
  </details>
);
