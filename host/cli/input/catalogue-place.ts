import { homedir } from 'node:os';
import { join, resolve } from 'node:path';
import { version } from '../../../package.json';
import { Catalogue, CatalogueTrouble } from '../../store/catalogue';
import type { Surroundings } from '../command';
import { refusedError } from '../input-error';
import type { Arguments, OptionTable } from '../options';

export const CATALOGUE_OPTIONS = {
  catalogue: {
    kind: 'text',
    value: 'FOLDER',
    help: 'where the catalogue lies; the folder of this person\u2019s jobs when left out',
  },
} as const satisfies OptionTable;

/** Where the catalogue lies. */
export const catalogueFolder = (given: Arguments, { environment }: Surroundings): string =>
  resolve(given.text('catalogue') ?? environment.NEEDLEWRIGHT_HOME ?? join(homedir(), 'needlewright'));

/** Opens the catalogue, works with it and closes it again. What its disk refuses is refused with exit code 3. */
export async function withCatalogue<Result>(
  given: Arguments,
  surroundings: Surroundings,
  work: (catalogue: Catalogue) => Result | Promise<Result>,
): Promise<Result> {
  let catalogue: Catalogue | undefined;
  try {
    catalogue = await Catalogue.open(catalogueFolder(given, surroundings), version);
    return await work(catalogue);
  } catch (error) {
    if (error instanceof CatalogueTrouble) throw refusedError(error.refused);
    throw error;
  } finally {
    catalogue?.close();
  }
}

/** The card that was typed by the first letters of its name. */
export function cardMeant(catalogue: Catalogue, typed: string): string {
  const found = catalogue.meant(typed);
  if (typeof found === 'string') return found;
  throw refusedError(found);
}
