import { homedir } from 'node:os';
import { join, resolve } from 'node:path';
import { version } from '../../../package.json';
import type { Card } from '../../catalogue';
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
export const catalogueFolder = (given: Arguments, surroundings: Surroundings): string =>
  resolve(given.text('catalogue') ?? usualFolder(surroundings));

const usualFolder = ({ environment }: Surroundings): string =>
  environment.NEEDLEWRIGHT_HOME ?? join(homedir(), 'needlewright');

/** The card of this person's catalogue that a word names; undefined where the word names none. */
export async function cardNamed(word: string, surroundings: Surroundings): Promise<Card | undefined> {
  const folder = resolve(usualFolder(surroundings));
  if (!CARD_NAME.test(word) || !Catalogue.isIn(folder)) return undefined;
  const catalogue = await Catalogue.open(folder, version);
  try {
    const hash = catalogue.meant(word);
    return typeof hash === 'string' ? catalogue.card(hash) : undefined;
  } finally {
    catalogue.close();
  }
}

/** Shorter beginnings are too much like words. */
const CARD_NAME = /^[a-z2-7]{6,52}$/i;

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
