import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { catalogueDesk } from '../../../host/server/catalogue/catalogue-desk';
import { answerFromCatalogue } from '../../../host/store/catalogue';
import type { SmallShop } from './small-shop';

/** A desk whose catalogue nobody has begun. */
export function emptyShop(): SmallShop {
  const folder = mkdtempSync(join(tmpdir(), 'needlewright-shop-'));
  const desk = catalogueDesk(
    { reckon: answerFromCatalogue, close: () => Promise.resolve() },
    { jobsFolder: folder, catalogueFolder: folder, version: 'test' },
  );
  return { desk, folder, end: () => rmSync(folder, { recursive: true, force: true }) };
}
