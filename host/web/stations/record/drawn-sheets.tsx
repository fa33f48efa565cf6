import type { JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { recordSheets } from '../../connection/http';
import { Note } from '../../parts/note';

/** `why`: what the host said instead of drawing. */
export type Drawn = { readonly sheets: readonly string[]; readonly why?: string };

/** The sheets as the host draws them, asked for anew after every entry; the last ones stay until others have come. */
export function useDrawnSheets(jobId: string, lastN: number): Drawn {
  const [drawn, setDrawn] = useState<Drawn>({ sheets: [] });
  useEffect(() => {
    let isWanted = true;
    void recordSheets(jobId).then((answer) => {
      if (!isWanted) return;
      setDrawn(
        answer.kind === 'answer' ? answer.body : (last) => ({ sheets: last.sheets, why: answer.message }),
      );
    });
    return () => {
      isWanted = false;
    };
  }, [jobId, lastN]);
  return drawn;
}

/**
 * The same sheets as in the PDF file, on the screen and on paper. The host drew them, and wrote every letter of a name as
 * a letter. On a narrow screen a sheet keeps its size and is moved sideways in its frame, a column at a time.
 */
export const DrawnSheets = ({ drawn: { sheets, why } }: { readonly drawn: Drawn }): JSX.Element => (
  <article class="record stack" aria-label="Record of measurement">
    {why === undefined ? null : (
      <Note kind="wrong" word="Not drawn">
        {why}
      </Note>
    )}
    {sheets.length === 0 && why === undefined ? <p class="soft">The sheets are being drawn ...</p> : null}
    {sheets.map((svg, index) => (
      <div
        key={index}
        class="drawn-sheet"
        role="region"
        aria-label={`Sheet ${index + 1} of ${sheets.length}`}
        tabIndex={0}
        dangerouslySetInnerHTML={{ __html: svg }}
      />
    ))}
  </article>
);
