import type { JSX } from 'preact';

/** What the computation wants said; folded, so that it never pushes the next thing to do off the screen. */
export function Remarks({ words }: { readonly words: readonly string[] }): JSX.Element | null {
  if (words.length === 0) return null;
  return (
    <details>
      <summary>{words.length === 1 ? 'One remark' : `${words.length} remarks`}</summary>
      <ul>
        {words.map((each) => (
          <li key={each}>{each}</li>
        ))}
      </ul>
    </details>
  );
}
