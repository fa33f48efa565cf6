/** Who works at this screen: typed once, offered to every job after. */
export type KeptShop = { readonly shop: string; readonly technician: string };

const KEYS = { shop: 'needlewright-shop', technician: 'needlewright-technician' } as const;

export const keptShop = (storage: Pick<Storage, 'getItem'> = localStorage): KeptShop => ({
  shop: storage.getItem(KEYS.shop) ?? '',
  technician: storage.getItem(KEYS.technician) ?? '',
});

/** What was left empty takes nothing away. */
export function keepShop(kept: KeptShop, storage: Pick<Storage, 'setItem'> = localStorage): void {
  for (const key of ['shop', 'technician'] as const)
    if (kept[key] !== '') storage.setItem(KEYS[key], kept[key]);
}
