import { z } from 'zod';
import { card as cardShape, shortName, statement as statementShape, type Card } from '../../catalogue';
import type { Catalogue, Entry } from './catalogue';
import type { PlacedDocument } from './keeper';
import { zipOf } from './zip';

/** Names within the archive. */
export const EXPORT_FILES = {
  documents: 'documents.ndjson',
  hashes: 'hashes.txt',
  signatures: 'signatures.txt',
  schema: 'schema.json',
  curves: 'curves.csv',
  readme: 'README.txt',
} as const;

export type Exported = { readonly bytes: Uint8Array; readonly cards: number; readonly statements: number };

/**
 * Cards with what was said about them, as one archive that any other program can read. Slips never go along. Signatures
 * that are there do, unless they shall not.
 */
export function exportOf(
  catalogue: Catalogue,
  entries: readonly Entry[],
  signed: 'signed' | 'unsigned' = 'signed',
): Exported {
  const chosen = new Set(entries.map(({ hash }) => hash));
  const documents = catalogue.keeper
    .since(0)
    .filter(({ hash, kind, body }) => (kind === 'card' ? chosen.has(hash) : isAbout(body, chosen)))
    .sort((one, other) => (one.hash < other.hash ? -1 : 1));
  const cards = entries.flatMap((entry) => {
    const card = catalogue.card(entry.hash);
    return card === undefined ? [] : [{ entry, card }];
  });
  const bytes = zipOf({
    [EXPORT_FILES.readme]: README,
    [EXPORT_FILES.documents]: lines(documents.map(({ body }) => body)),
    [EXPORT_FILES.hashes]: lines(documents.map(({ hash }) => hash)),
    ...(signed === 'unsigned' ? {} : { [EXPORT_FILES.signatures]: lines(documents.map(signatureLine)) }),
    [EXPORT_FILES.schema]: `${JSON.stringify(SCHEMA, null, 2)}\n`,
    [EXPORT_FILES.curves]: curvesCsv(cards),
  });
  return { bytes, cards: cards.length, statements: documents.length - cards.length };
}

const signatureLine = ({ signer, signature }: PlacedDocument): string =>
  signer === undefined || signature === undefined ? '' : `${signer} ${signature}`;

const lines = (texts: readonly string[]): string => texts.map((text) => `${text}\n`).join('');

/** A remark goes along when all the cards it is about do; one on names of models is about none. */
function isAbout(body: string, chosen: ReadonlySet<string>): boolean {
  const read = statementShape.safeParse(JSON.parse(body));
  if (!read.success) return true;
  return 'about' in read.data ? read.data.about.every((hash) => chosen.has(hash)) : true;
}

const SCHEMA = {
  $schema: 'https://json-schema.org/draft/2020-12/schema',
  title: 'One line of documents.ndjson',
  anyOf: [z.toJSONSchema(cardShape), z.toJSONSchema(statementShape)],
};

const COLUMNS = [
  'card',
  'kind',
  'model',
  'description',
  'unit',
  'resistance_ohm',
  'value',
  'leg',
  'at_stop',
  'u_value',
  'u_ohm',
  'struck',
  'simulated',
  'licence',
];

/** One row a point, for a spreadsheet. */
function curvesCsv(cards: readonly { readonly entry: Entry; readonly card: Card }[]): string {
  const rows = cards.flatMap(({ entry, card }) =>
    pointsOf(card).map((point) => [
      ...[textCell(shortName(entry.hash)), textCell(card.kind), textCell(entry.model ?? '')],
      ...[textCell(card.description ?? ''), textCell(card.unit)],
      ...point,
      ...[String(card.simulated), textCell(card.licence)],
    ]),
  );
  return lines([COLUMNS.join(','), ...rows.map((row) => row.join(','))]);
}

const number = (value: number | undefined): string => (value === undefined ? '' : String(value));

function pointsOf(card: Card): string[][] {
  if (card.kind === 'sender')
    return card.points.map((one) => [
      ...[number(one.resistance_ohm), number(one.value), '', '', number(one.u_value), number(one.u_ohm)],
      textCell(one.struck ?? ''),
    ]);
  return card.points.map((one) => [
    ...[number(one.resistance_ohm), number(one.reading), one.leg ?? '', one.at_stop ?? ''],
    ...[number(one.u_reading), number(one.u_ohm), textCell(one.struck ?? '')],
  ]);
}

/**
 * Text as a spreadsheet shows it and never runs it: a cell that would be taken for a formula begins with an apostrophe.
 * Source: OWASP, CSV Injection: = + - @, tab and line ends, and the wide forms of the signs.
 */
const textCell = (text: string): string => {
  const safe = /^[=+\-@\t\r\n\uff1d\uff0b\uff0d\uff20]/.test(text) ? `'${text}` : text;
  return /[",\n\r]/.test(safe) ? `"${safe.replace(/"/g, '""')}"` : safe;
};

const README = `Curves of gauges and senders
============================

documents.ndjson  one document a line: cards (a measured curve each) and remarks about them.
                  Every line is JSON in the one form of RFC 8785. The name of a document is
                  the SHA-256 of its line without the line's end.
hashes.txt        these names, line by line, as 64 hex digits.
signatures.txt    line by line who signed a document, an Ed25519 key (RFC 8032), and the
                  signature of its line, both as hex; an empty line: nobody did. It says who,
                  never how good.
schema.json       a JSON Schema (2020-12) of a line.
curves.csv        the same points for a spreadsheet, one a row. Text that a spreadsheet could
                  take for a formula begins with an apostrophe.

A card holds raw readings, never a fit: resistance in ohm, and what the needle showed in the
unit of the card, or for a sender the value that was measured beside it. "u_..." are standard
uncertainties. A point with "struck" does not count, and says why. "simulated": nothing was
measured. "angle_fraction" is the place of a mark on the arc, 0 at its low end and 1 at its
high end. "licence" says what may be done with a card: "private" cards are for you alone.

Remarks: belongs-to-model, model-also-called, same-specimen, other-specimens, supersedes, withdrawn. Of two on
one thing the later counts. Nothing is ever changed; the same document twice is one document.
`;
