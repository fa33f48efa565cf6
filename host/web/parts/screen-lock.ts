/** What keeps the screen of a phone from going dark. Source: W3C, Screen Wake Lock API. */
type Held = { readonly release: () => Promise<void> };
export type ScreenOn = 'asked' | 'held' | 'not-held';
type Lock = { readonly request: (kind: 'screen') => Promise<Held> };
type Watched = Pick<Document, 'visibilityState' | 'addEventListener' | 'removeEventListener'>;

/**
 * Holds the screen on until the answer is called. A browser takes the lock away when the page is hidden, so it is asked
 * for again whenever the page is seen; one that has no such lock, or only over https, tells `not-held`.
 */
export function holdScreen(
  lock: Lock | undefined,
  page: Watched,
  told: (state: ScreenOn) => void,
): () => void {
  let held: Held | undefined;
  let isWanted = true;
  const letGo = (): void => {
    void held?.release().catch(() => undefined);
    held = undefined;
  };
  const ask = async (): Promise<void> => {
    if (!isWanted || page.visibilityState !== 'visible') return;
    try {
      const got = await lock?.request('screen');
      letGo();
      held = got;
      told(got === undefined ? 'not-held' : 'held');
    } catch {
      told('not-held');
    }
    if (!isWanted) letGo();
  };
  const seen = (): void => void ask();
  page.addEventListener('visibilitychange', seen);
  void ask();
  return () => {
    isWanted = false;
    page.removeEventListener('visibilitychange', seen);
    letGo();
  };
}
