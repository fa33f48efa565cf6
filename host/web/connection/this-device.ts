/** Who this page is to the host: what it would like to be called, a key only this tab knows, which build it is. */
export type Self = { readonly screen: string; readonly key: string; readonly build: string };

const KEY_BYTES = 16;

function kept(storage: Storage, name: string, make: () => string): string {
  const known = storage.getItem(name);
  if (known !== null) return known;
  const made = make();
  storage.setItem(name, made);
  return made;
}

/** What this device is, in one word. */
export const deviceWord = (): string => (matchMedia('(pointer: coarse)').matches ? 'phone' : 'laptop');

/** Stays while the tab lives. */
export function selfOf(storage: Storage): Self {
  return {
    screen: kept(storage, 'needlewright-screen', () => `${deviceWord()} ${Math.floor(1000 * Math.random())}`),
    key: kept(storage, 'needlewright-key', () =>
      [...crypto.getRandomValues(new Uint8Array(KEY_BYTES))]
        .map((byte) => byte.toString(16).padStart(2, '0'))
        .join(''),
    ),
    build: document.querySelector<HTMLMetaElement>('meta[name="build"]')?.content ?? 'unknown',
  };
}
