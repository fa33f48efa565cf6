import { monotoneRoot } from '../../numeric/monotone-root';
import { lawReading } from '../laws/law-model';
import type { Row } from '../readings/observations';
import type { LawModel, StopReport } from '../types';

/** What is known of each stop at which the needle was seen. Source: definition. */
export function stopReports(
  marked: readonly Row[],
  inferred: ReadonlySet<number>,
  model: LawModel,
  between: { readonly fromOhm: number; readonly toOhm: number },
): StopReport[] {
  const sides = [
    { side: 'low', bound: 'at most' },
    { side: 'high', bound: 'at least' },
  ] as const;
  return sides.flatMap(({ side, bound }) => {
    const rows = marked.filter((row) => row.bound === bound);
    if (rows.length === 0) return [];
    const ohms = rows.map((row) => row.ohm);
    const sorted = rows.map((row) => row.reading).sort((a, b) => a - b);
    const reading = sorted[sorted.length >> 1]!;
    const seenFromOhm = Math.min(...ohms);
    const seenToOhm = Math.max(...ohms);
    return [
      {
        side,
        reading,
        seenFromOhm,
        seenToOhm,
        reachedAtOhm: reachedAt(model, reading, { ...between, seenFromOhm, seenToOhm }),
        source: rows.some((row) => inferred.has(row.index)) ? 'inferred' : 'marked',
      } as const,
    ];
  });
}

type Span = {
  readonly fromOhm: number;
  readonly toOhm: number;
  readonly seenFromOhm: number;
  readonly seenToOhm: number;
};

/**
 * Where the law meets the stop, between the last setting on the scale and the farthest one at the stop. A law that meets
 * it only beyond the nearest setting seen there is held to that setting.
 */
function reachedAt(model: LawModel, reading: number, span: Span): number | undefined {
  const isAbove = span.seenToOhm > span.toOhm;
  const [near, seen, far] = isAbove
    ? [span.toOhm, span.seenFromOhm, span.seenToOhm]
    : [span.fromOhm, span.seenToOhm, span.seenFromOhm];
  const met = monotoneRoot((ohm) => lawReading(model, ohm), { from: near, to: far, target: reading });
  if (met === undefined) return undefined;
  return isAbove ? Math.min(met, seen) : Math.max(met, seen);
}
