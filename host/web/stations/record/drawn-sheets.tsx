import type { JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { recordSheets } from '../../connection/http';

/** The sheets as the host draws them, asked for anew after every entry; the last ones stay until others have come. */
export function useDrawnSheets(jobId: string, lastN: number): readonly string[] {
  const [sheets, setSheets] = useState<readonly string[]>([]);
  useEffect(() => {
    let isWanted = true;
    void recordSheets(jobId).then((answer) => {
      if (isWanted && answer.kind === 'answer') setSheets(answer.body.sheets);
    });
    return () => {
      isWanted = false;
    };
  }, [jobId, lastN]);
  return sheets;
}

/** The same sheets as in the PDF file, for paper alone. The host drew them, and wrote every letter of a name as a letter. */
export const DrawnSheets = ({ sheets }: { readonly sheets: readonly string[] }): JSX.Element => (
  <div class="drawn-sheets">
    {sheets.map((svg, index) => (
      <div key={index} class="drawn-sheet" dangerouslySetInnerHTML={{ __html: svg }} />
    ))}
  </div>
);
