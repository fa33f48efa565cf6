import { knownShops, nameShop } from '../../../store/catalogue';
import { withCatalogue } from '../../input/catalogue-place';
import { InputError } from '../../input-error';
import { schemaOf, type Action } from './action';

export const keysAction: Action = {
  name: 'keys',
  usage: '[KEY --name SHOP]',
  help: 'this shop\u2019s key, by which others know what it signed; name the shop behind another key',
  words: { least: 0, most: 1 },
  run: ([typed], given, surroundings) =>
    withCatalogue(given, surroundings, (catalogue) => {
      const name = given.text('name');
      if ((typed === undefined) !== (name === undefined))
        throw new InputError('usage: needlewright catalogue keys KEY --name SHOP');
      if (typed !== undefined && name !== undefined) nameShop(catalogue, keyMeant(typed), name);
      const own = catalogue.key('make')?.signer ?? '';
      const shops = [...knownShops(catalogue)].map(([key, shop]) => ({ key, name: shop }));
      return {
        text: [`${own}  this shop`, ...shops.map((shop) => `${shop.key}  ${shop.name}`)],
        json: { schema: schemaOf('keys'), own, shops },
      };
    }),
};

function keyMeant(typed: string): string {
  const key = typed.trim().toLowerCase();
  if (!/^[0-9a-f]{64}$/.test(key))
    throw new InputError(
      `"${typed}" is no key: copy the 64 digits and letters that "catalogue keys" shows there`,
    );
  return key;
}
