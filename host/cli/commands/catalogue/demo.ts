import { addDemo, removeDemo } from '../../../store/catalogue';
import { withCatalogue } from '../../input/catalogue-place';
import { nowIso, schemaOf, type Action } from './action';

/** A catalogue to try things with: simulated, marked so for ever, and taken out again with `--remove`. */
export const demoAction: Action = {
  name: 'demo',
  usage: '',
  help: 'take in the catalogue of an invented shop to try things with; --remove takes it out again',
  words: { least: 0, most: 0 },
  run: (_, given, surroundings) =>
    withCatalogue(given, surroundings, async (catalogue) => {
      const isOut = given.flag('remove');
      const count = isOut ? await removeDemo(catalogue) : await addDemo(catalogue, nowIso());
      const said = isOut
        ? `${count} documents of the demo taken out; nothing else was touched`
        : `${count} new documents; its cards are marked "demo" and are never sent to others`;
      return { text: [said], json: { schema: schemaOf('demo'), documents: count, removed: isOut } };
    }),
};
