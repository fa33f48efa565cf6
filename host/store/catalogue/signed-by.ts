import type { Catalogue } from './catalogue';
import { isSignedBy } from './signature';

/** Who signed a document, as far as this shop knows. It says who, never how good. */
export type SignedBy =
  | { readonly kind: 'own' | 'unknown' | 'broken'; readonly signer: string }
  | { readonly kind: 'known'; readonly signer: string; readonly name: string }
  | { readonly kind: 'unsigned' };

const BEGINNING = 'shop ';

/** Shops whose keys were named here, by their keys. */
export const knownShops = ({ keeper }: Catalogue): ReadonlyMap<string, string> => keeper.keptUnder(BEGINNING);

/** Names the shop of a key, on this machine only. */
export const nameShop = ({ keeper }: Catalogue, signer: string, name: string): void =>
  keeper.keep(`${BEGINNING}${signer}`, name);

/** Who signed a card. */
export function signedBy(catalogue: Catalogue, hash: string): SignedBy {
  const document = catalogue.keeper.one(hash);
  if (document?.signer === undefined) return { kind: 'unsigned' };
  const { signer, signature = '', body } = document;
  if (!isSignedBy(body, { signer, signature })) return { kind: 'broken', signer };
  if (catalogue.key('none')?.signer === signer) return { kind: 'own', signer };
  const name = knownShops(catalogue).get(signer);
  return name === undefined ? { kind: 'unknown', signer } : { kind: 'known', signer, name };
}
