import { z } from 'zod';
import {
  cardSummary,
  columnsOf,
  readDocument,
  summaryOf,
  type Card,
  type CardSummary,
} from '../../catalogue';
import { COLUMNS_VERSION, POSITIONS, type Columns } from '../../core/catalogue/columns';
import { plain } from '../../words/notation';
import { saidRefusal } from '../../words/refusal';
import type { Derived, PlacedDocument } from './keeper';

/** What searching needs of a card, or why it has none. */
export type WorkedOut =
  | Columns
  | { readonly kind: 'refused'; readonly code: string; readonly message: string };

const answerShape = z.object({
  summary: cardSummary,
  search: z.discriminatedUnion('kind', [
    z.object({
      kind: z.literal('columns'),
      from: z.number(),
      to: z.number(),
      law: z.string(),
      lowOhm: z.number().optional(),
      highOhm: z.number().optional(),
      scale: z.object({
        unit: z.string(),
        marks: z.array(z.object({ label: z.string(), reading: z.number(), angleFraction: z.number() })),
        lowest: z.number(),
        highest: z.number(),
      }),
    }),
    z.object({ kind: z.literal('refused'), code: z.string(), message: z.string() }),
  ]),
});

/** The cache is of this fit and this layout: another program works it out anew. */
export const derivedVersion = (program: string): string => `${program}/${COLUMNS_VERSION}`;

/** Fits a card, which takes a tenth of a second. */
export function workOut(hash: string, card: Card): Derived {
  const found = columnsOf(card);
  const summary = summaryOf(card);
  if (found.kind === 'refused') {
    const search = { kind: 'refused', code: found.code, message: saidRefusal(found, plain) };
    return { hash, answer: JSON.stringify({ summary, search }), columns: null };
  }
  const { value, uncertainty, ...search } = found;
  const both = new Float32Array(2 * POSITIONS);
  both.set(value);
  both.set(uncertainty, POSITIONS);
  return { hash, answer: JSON.stringify({ summary, search }), columns: new Uint8Array(both.buffer) };
}

/** A line of the cache as it was kept; undefined for one that is not whole, which is worked out again. */
export function readDerived({
  answer,
  columns,
}: Derived): { readonly summary: CardSummary; readonly search: WorkedOut } | undefined {
  const read = answerShape.safeParse(parsed(answer));
  if (!read.success) return undefined;
  const { summary, search } = read.data;
  if (search.kind === 'refused') return { summary, search };
  if (columns?.byteLength !== 2 * POSITIONS * Float32Array.BYTES_PER_ELEMENT) return undefined;
  const both = new Float32Array(columns.slice().buffer);
  return {
    summary,
    search: {
      ...search,
      lowOhm: search.lowOhm,
      highOhm: search.highOhm,
      value: both.subarray(0, POSITIONS),
      uncertainty: both.subarray(POSITIONS),
    },
  };
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

/** The card of a kept document; undefined for any other. */
export function cardOf({ body }: Pick<PlacedDocument, 'body'>): Card | undefined {
  const read = readDocument(body);
  return read.kind === 'card' ? read.card : undefined;
}
