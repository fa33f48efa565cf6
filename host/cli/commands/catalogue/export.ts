import { writeFile } from 'node:fs/promises';
import { counts, exportOf, ofModel } from '../../../store/catalogue';
import { demoStays, privateGoAlong } from '../../../words/catalogue';
import { withCatalogue } from '../../input/catalogue-place';
import { InputError } from '../../input-error';
import { schemaOf, type Action } from './action';
import { chosen } from './look';

export const exportAction: Action = {
  name: 'export',
  usage: 'FILE.zip',
  help: 'cards and what was said about them as one file that other programs can read; slips stay here',
  words: { least: 1, most: 1 },
  run: ([file = ''], given, surroundings) =>
    withCatalogue(given, surroundings, async (catalogue) => {
      const model = given.text('model');
      const entries = catalogue.entries();
      const meant = chosen(model === undefined ? entries : ofModel(entries, model), given).filter(
        (entry) =>
          given.text('select') !== 'shared' || (entry.summary.licence !== 'private' && counts(entry)),
      );
      const asked = meant.filter(({ summary }) => !summary.demo);
      const demo = meant.length - asked.length;
      if (asked.length === 0)
        throw new InputError(
          demo === 0 ? 'no card is left to export; look at "catalogue list"' : demoStays(demo),
        );
      const signed = given.flag('unsigned') ? 'unsigned' : 'signed';
      if (signed === 'signed') catalogue.signOwn();
      const { bytes, cards, statements } = exportOf(catalogue, asked, signed);
      await writeNew(file, bytes);
      const own = asked.filter(({ summary }) => summary.licence === 'private').length;
      return {
        text: [`${file}: ${cards} cards and ${statements} remarks, ${bytes.length} bytes`],
        json: {
          ...{ schema: schemaOf('export'), file, cards, statements },
          ...{ bytes: bytes.length, private: own, demo_left_out: demo },
        },
        warnings: [...(own === 0 ? [] : [privateGoAlong(own)]), ...(demo === 0 ? [] : [demoStays(demo)])],
      };
    }),
};

async function writeNew(file: string, bytes: Uint8Array): Promise<void> {
  try {
    await writeFile(file, bytes, { flag: 'wx' });
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? String(error.code) : '';
    const why =
      code === 'EEXIST'
        ? 'this file is there already; name one that does not exist yet'
        : `the file cannot be written here (${code})`;
    throw new InputError(why, { file }, { cause: error });
  }
}
