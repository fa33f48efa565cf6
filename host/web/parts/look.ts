import { createSignal, type Signal } from '../signal';

/** Paper by day or by night: as the system says, or as this screen was told. */
export type Look = 'system' | 'day' | 'night';

const KEY = 'needlewright-look';
const MEDIA: Readonly<Record<Look, string>> = {
  system: 'screen and (prefers-color-scheme: dark)',
  day: 'not all',
  night: 'screen',
};

const lookOf = (kept: string | null): Look => (kept === 'day' || kept === 'night' ? kept : 'system');

export type Looks = { readonly look: Signal<Look>; readonly setLook: (look: Look) => void };

/** A phone under a bonnet at noon and one under the dash want different looks: each screen keeps its own. */
export function createLooks(storage: Storage, night: HTMLElement | null): Looks {
  const look = createSignal(lookOf(storage.getItem(KEY)));
  const put = (): void => night?.setAttribute('media', MEDIA[look.get()]);
  put();
  return {
    look,
    setLook: (chosen) => {
      storage.setItem(KEY, chosen);
      look.set(chosen);
      put();
    },
  };
}
