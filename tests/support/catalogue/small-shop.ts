import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { catalogueDesk, type CatalogueDesk } from '../../../host/server/catalogue/catalogue-desk';
import { answerFromCatalogue, Catalogue, takeIn } from '../../../host/store/catalogue';
import { readLines } from '../../../host/store/catalogue/import';

const FILE = join(import.meta.dirname, '../../../demo-sessions/shop-catalogue.ndjson');

/** The first two models of the demo, whose 14 fits take a second or two; all 108 would take ten. */
const FIRST_TWO_MODELS = 16;

export type SmallShop = { readonly desk: CatalogueDesk; readonly folder: string; readonly end: () => void };

/** A desk on a catalogue of two models, worked out in this thread. */
export async function smallShop(): Promise<SmallShop> {
  const folder = mkdtempSync(join(tmpdir(), 'needlewright-shop-'));
  const catalogue = await Catalogue.open(folder, 'test');
  const { documents } = readLines(readFileSync(FILE));
  takeIn(catalogue, { documents: documents.slice(0, FIRST_TWO_MODELS) }, '2026-03-01T12:00:00Z');
  catalogue.close();
  const desk = catalogueDesk(
    { reckon: answerFromCatalogue, close: () => Promise.resolve() },
    { jobsFolder: folder, catalogueFolder: folder, version: 'test' },
  );
  return { desk, folder, end: () => rmSync(folder, { recursive: true, force: true }) };
}
