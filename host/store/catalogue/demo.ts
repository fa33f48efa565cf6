import { existsSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { readDocument } from '../../catalogue';
import type { Catalogue } from './catalogue';
import { readLines, takeIn } from './import';
import type { Document } from './keeper';

/** Beside the bundled command, and beside the source. */
const PLACES = ['../../demo-sessions/', '../../../demo-sessions/'].map((place) =>
  fileURLToPath(new URL(`${place}shop-catalogue.ndjson`, import.meta.url)),
);

/** Documents of the catalogue that comes along to try things with. Throws where it did not come along. */
async function demoDocuments(): Promise<readonly Document[]> {
  const file = PLACES.find((place) => existsSync(place)) ?? PLACES[0]!;
  return readLines(await readFile(file)).documents;
}

/** Takes the demo in. Answers how many of its documents are new. */
export async function addDemo(catalogue: Catalogue, at: string): Promise<number> {
  return takeIn(catalogue, { documents: await demoDocuments() }, at);
}

/**
 * Takes the demo out again, every document of it and nothing else: what came along with this program and with an earlier
 * one, and what was said about its cards alone. Answers how many there were.
 */
export async function removeDemo(catalogue: Catalogue): Promise<number> {
  const cards = catalogue.entries().flatMap(({ hash, summary }) => (summary.demo ? [hash] : []));
  const demoCards = new Set(cards);
  const said = catalogue.keeper
    .statements()
    .filter((document) => isDemo(document, demoCards))
    .map(({ hash }) => hash);
  const shipped = (await demoDocuments()).map(({ hash }) => hash);
  return catalogue.keeper.remove([...new Set([...cards, ...said, ...shipped])]);
}

/** Whether a document is of a demo: such a card, or a remark about nothing else. It stays on its machine. */
export function isDemo({ kind, body }: Document, demoCards: ReadonlySet<string>): boolean {
  if (kind === 'newer') return false;
  const read = readDocument(body);
  if (read.kind === 'card') return read.card.demo === true;
  if (read.kind !== 'statement' || !('about' in read.statement)) return false;
  return read.statement.about.every((hash) => demoCards.has(hash));
}
