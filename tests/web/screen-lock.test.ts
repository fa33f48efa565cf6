import { describe, expect, it } from 'vitest';
import { holdScreen, type ScreenOn } from '../../host/web/parts/screen-lock';

/** A browser as the Screen Wake Lock API describes it: the lock goes when the page is hidden. */
class Browser extends EventTarget {
  visibilityState: DocumentVisibilityState = 'visible';
  asked = 0;
  readonly #locks = new Set<symbol>();
  isAllowed = true;
  readonly lock = {
    request: (): Promise<{ release: () => Promise<void> }> => {
      this.asked += 1;
      if (!this.isAllowed) return Promise.reject(new DOMException('no', 'NotAllowedError'));
      const lock = Symbol();
      this.#locks.add(lock);
      const release = (): Promise<void> => {
        this.#locks.delete(lock);
        return Promise.resolve();
      };
      return Promise.resolve({ release });
    },
  };

  get held(): number {
    return this.#locks.size;
  }

  async show(isVisible: boolean): Promise<void> {
    this.visibilityState = isVisible ? 'visible' : 'hidden';
    if (!isVisible) this.#locks.clear();
    this.dispatchEvent(new Event('visibilitychange'));
    await new Promise((resolve) => setImmediate(resolve));
  }
}
const settled = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

describe('the screen of a phone in a sweep', () => {
  it('is held on, asked for again when the page is seen again, and let go at the end', async () => {
    const browser = new Browser();
    const told: ScreenOn[] = [];
    const end = holdScreen(browser.lock, browser, (state) => told.push(state));
    await settled();
    expect([told, browser.held]).toEqual([['held'], 1]);
    await browser.show(false);
    expect(browser.asked).toBe(1);
    await browser.show(true);
    expect([browser.asked, browser.held]).toEqual([2, 1]);
    end();
    await browser.show(true);
    expect([browser.asked, browser.held]).toEqual([2, 0]);
  });

  it('is let go when the sweep ended before the browser had answered', async () => {
    const browser = new Browser();
    holdScreen(browser.lock, browser, () => undefined)();
    await settled();
    expect(browser.held).toBe(0);
  });

  it.each(['there is no such lock', 'the browser refuses it'])(
    'is said not to be held where %s',
    async (why) => {
      const browser = new Browser();
      browser.isAllowed = false;
      const told: ScreenOn[] = [];
      holdScreen(why === 'there is no such lock' ? undefined : browser.lock, browser, (state) =>
        told.push(state),
      );
      await settled();
      expect(told).toEqual(['not-held']);
    },
  );
});
