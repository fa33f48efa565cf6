import type { ComponentChildren, JSX } from 'preact';

type FoldProps = {
  /** What it is, and, softer, what is in it: one need not open it to know. */
  readonly line: string;
  readonly says?: string | undefined;
  readonly open?: boolean;
  readonly children: ComponentChildren;
};

/** A closed line that says what it holds. */
export const Fold = ({ line, says, open, children }: FoldProps): JSX.Element => (
  <details class="fold" {...(open === undefined ? {} : { open })}>
    <summary>
      <span>
        {line}
        {says === undefined ? null : <span class="soft"> {says}</span>}
      </span>
    </summary>
    <div class="stack fold-body">{children}</div>
  </details>
);
